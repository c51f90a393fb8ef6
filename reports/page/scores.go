package page

import (
	"fmt"
)

// A scorePart is the report's section on the scoring rule.
type scorePart struct {
	Sentence       string
	Effects, Steps *htmlTable
}

// fillScores says what hangs on each component and on each weight.
func (r *Report) fillScores(p *page) error {
	d := r.Score
	if d == nil {
		return nil
	}
	p.Scores = &scorePart{
		Sentence: fmt.Sprintf("Rule version %s. %s; %d stand at the floor and %d at the cap.", d.Rule.Version, haveScore(d.Scored), d.AtFloor, d.AtCap),
		Effects:  newHTMLTable(d.EffectTable()),
	}
	if len(d.Steps) > 0 {
		p.Scores.Steps = newHTMLTable(d.StepTable())
	}
	return nil
}

func haveScore(n int) string {
	if n == 1 {
		return "1 attempt has a score"
	}
	return fmt.Sprintf("%d attempts have a score", n)
}
