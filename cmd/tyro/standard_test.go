package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// A wrong flag is a wrong command line, told before anything is computed.
func TestStandardUsage(t *testing.T) {
	dir, data := demoStudy(t), filepath.Join("..", "..", "testdata", "standards")
	experts, groups, judges := filepath.Join(data, "expert_benchmark.csv"), filepath.Join(data, "contrasting_groups.csv"), filepath.Join(data, "angoff.csv")
	for _, args := range []string{
		dir + " --percentile 75", dir + " --value 400", dir + " --method angoff", dir + " --trainee-table x.csv",
		experts + " --sds -1", experts + " --sds NaN", experts + " --sds 11", experts + " --trim 0.5", experts + " --trim NaN", experts + " --drop-mads Inf",
		experts + " --trim 0.1 --drop-sds 2", experts + " --skip-runs -1", experts + " --percentile 0 --method expert-percentile", experts + " --percentile NaN --method expert-percentile",
		experts + " --log-scale --method expert-median", experts + " --summary most", experts + " --reliability 0.8", experts + " --task x", experts + " --measure count --value -1",
		groups + " --method contrasting-groups --crossing middle", groups + " --method contrasting-groups --borderline 2", groups + " --method contrasting-groups --reliability 0",
		groups + " --method contrasting-groups --reliability 0.8 --highest-score Inf", groups + " --method contrasting-groups --lowest-score 1",
		groups + " --method borderline-group", groups + " --method borderline-group --borderline Inf", groups + " --method hofstee", groups + " --method hofstee --judges x.csv --step 0",
		judges + " --method angoff --measure time", judges + " --method angoff --class x", judges + " --method angoff --response x", judges + " --method guess",
		judges + " --method angoff --decided-on yesterday", judges + " --method angoff --value Inf",
	} {
		out, talk := tyro(t, exitUsage, append([]string{"standard"}, strings.Fields(args)...)...)
		if out != "" || !strings.Contains(talk, `Run "tyro help"`) {
			t.Errorf("standard %s: %q, %q", args, out, talk)
		}
	}
}
