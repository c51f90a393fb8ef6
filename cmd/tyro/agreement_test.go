package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// A wrong flag is a wrong command line, told before anything is computed.
func TestAgreementUsage(t *testing.T) {
	dir, table := demoStudy(t), filepath.Join("..", "..", "testdata", "agreement", "fleiss_1971_ratings.csv")
	for _, args := range []string{
		"", dir + " --cut NaN", dir + " --cost-rating NaN", dir + " --cost-performance -1", dir + " --enough 1", dir + " --most-raters 0", dir + " --better best",
		dir + " --subject x", dir + " --scale nominal", dir + " --wide", dir + " --expect 0.6", dir + " --power 0.9",
		table + " --task x", table + " --scale words", table + " --wide --counts",
		dir + " --plan icc --expect 0.8", "--plan icc", "--plan alpha --expect 0.8", "--plan icc --expect 1", "--plan icc --expect NaN", "--plan icc --expect 0.8 --interval-width 0",
		"--plan icc --expect 0.8 --raters 2.5", "--plan icc --expect 0.8 --raters 1", "--plan icc --expect 0.8 --raters two", "--plan icc --expect 0.8 --subjects 2",
		"--plan icc --expect 0.8 --shares 0.5,0.5", "--plan icc --expect 0.8 --rater-share 1", "--plan icc --expect 0.8 --cut 5", "--plan icc --expect 0.8 --wide",
		"--plan kappa --expect 0.6 --shares 0.5,0.9", "--plan kappa --expect 0.6 --shares 1", "--plan kappa --expect 0.6 --rater-share 0.2", "--plan kappa --expect 0.6 --power 0.9",
		"--plan kappa --expect 0.6 --null 0.6", "--plan kappa --expect 0.6 --null 0.3 --power 2",
	} {
		out, talk := tyro(t, exitUsage, append([]string{"agreement"}, strings.Fields(args)...)...)
		if out != "" || !strings.Contains(talk, `Run "tyro help"`) {
			t.Errorf("agreement %s: %q, %q", args, out, talk)
		}
	}
}
