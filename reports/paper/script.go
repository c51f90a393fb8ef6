package paper

import (
	"fmt"
	"strings"
)

// script runs the study again: the command, and what has to be the same for the numbers to
// be the same. It checks the data before it runs.
func (p *Paper) script() []byte {
	var b strings.Builder
	st := p.Study
	b.WriteString("#!/bin/sh\n# Runs this study again. The same program, data and seed give the same numbers, on any\n# number of processors. Run it in the folder in which the study was analysed.\n#\n")
	fmt.Fprintf(&b, "# tyro      %s\n# commit    %s\n# Go        %s\n# system    %s/%s\n", p.Build.Version, p.Build.CommitText(), p.Build.Go, p.Build.OS, p.Build.Arch)
	fmt.Fprintf(&b, "# seed      %d\n# data      SHA-256 %s\n", st.Options.Seed, st.SHA256)
	b.WriteString("set -eu\n")
	if len(p.Hashes) > 0 {
		b.WriteString("\n# The data have to be those of the paper.\nsha256sum --check --quiet <<'FILES'\n")
		for _, f := range p.Hashes {
			fmt.Fprintf(&b, "%s  %s\n", f.SHA256, strings.NewReplacer("\n", " ", "\r", " ").Replace(f.Name))
		}
		b.WriteString("FILES\n")
	}
	fmt.Fprintf(&b, "\n%s\n", p.Command)
	return []byte(b.String())
}
