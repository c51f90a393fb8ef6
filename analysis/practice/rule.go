package practice

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// A Rule says when a trainee counts as proficient: once each of its clauses has
// been met, at that attempt or before.
type Rule []Clause

// A Clause is one condition on the passes so far: Need passes in a row
// (Of = 0, InAll false), Need passes in all, or Need of the last Of attempts.
type Clause struct {
	Need, Of int
	InAll    bool
}

var (
	inARow = regexp.MustCompile(`^(\d+) in a row$`)
	inAll  = regexp.MustCompile(`^(\d+) in all$`)
	ofLast = regexp.MustCompile(`^(\d+) of last (\d+)$`)
)

// ParseRule reads clauses "2 in a row", "10 in all", "3 of last 5", joined by
// " and ".
func ParseRule(text string) (Rule, error) {
	var rule Rule
	for part := range strings.SplitSeq(strings.TrimSpace(text), " and ") {
		part = strings.Join(strings.Fields(part), " ")
		var c Clause
		if m := inARow.FindStringSubmatch(part); m != nil {
			c = Clause{Need: whole(m[1])}
		} else if m := inAll.FindStringSubmatch(part); m != nil {
			c = Clause{Need: whole(m[1]), InAll: true}
		} else if m := ofLast.FindStringSubmatch(part); m != nil {
			c = Clause{Need: whole(m[1]), Of: whole(m[2])}
		} else {
			return nil, fmt.Errorf("rule %q: cannot read %q; write \"2 in a row\", \"10 in all\" or \"3 of last 5\", joined by \" and \"", text, part)
		}
		if c.Need < 1 || c.Need > 1000 || c.Of > 1000 || c.Of > 0 && c.Of < c.Need {
			return nil, fmt.Errorf("rule %q: %q can never be met", text, part)
		}
		rule = append(rule, c)
	}
	return rule, nil
}

func whole(s string) int {
	v, err := strconv.Atoi(s)
	if err != nil {
		return 1 << 30
	}
	return v
}

// String writes the rule as ParseRule reads it.
func (r Rule) String() string {
	parts := make([]string, len(r))
	for i, c := range r {
		switch {
		case c.InAll:
			parts[i] = fmt.Sprintf("%d in all", c.Need)
		case c.Of > 0:
			parts[i] = fmt.Sprintf("%d of last %d", c.Need, c.Of)
		default:
			parts[i] = fmt.Sprintf("%d in a row", c.Need)
		}
	}
	return strings.Join(parts, " and ")
}

// FirstMet is the position, from 1, of the attempt at which the rule is first
// met in a sequence of passes: the last of the positions at which its clauses first
// are. 0 when one of them never is.
func (r Rule) FirstMet(passes []bool) int {
	last := 0
	for _, c := range r {
		at := c.firstMet(passes)
		if at == 0 {
			return 0
		}
		last = max(last, at)
	}
	return last
}

// firstMet is the position at which one clause is first met; 0 when it is not.
func (c Clause) firstMet(passes []bool) int {
	for i := range passes {
		from := 0
		switch {
		case c.InAll:
		case c.Of > 0:
			from = max(0, i+1-c.Of)
		default:
			from = max(0, i+1-c.Need)
		}
		n := 0
		for _, p := range passes[from : i+1] {
			if p {
				n++
			}
		}
		if n >= c.Need {
			return i + 1
		}
	}
	return 0
}
