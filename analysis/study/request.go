package study

import (
	"fmt"
	"slices"
	"strings"

	"tyro/analysis/practice"
)

// A Request is how answers were asked for, and which part of them is shown. It changes no
// number: everybody stays in the analysis. Every document carries it.
type Request struct {
	CommandLine string         // without what never changes an answer
	Flags       map[string]any // those given, by name: a number, true or false, a text, or a list
	Only        []string       // trainees shown; nil: all
	Arm         string         // arm shown; blank: all
	UpTo        string         // day up to which attempts were read; blank: all
}

// An UnknownError is a name that the study does not have.
type UnknownError struct {
	What, Name string   // trainee or arm
	Known      []string // of that kind
}

func (e UnknownError) Error() string {
	if len(e.Known) == 0 {
		return fmt.Sprintf("no %s %q: none are named in the data", e.What, e.Name)
	}
	if e.What == "arm" {
		return fmt.Sprintf("no arm %q: the study has %s", e.Name, strings.Join(e.Known, ", "))
	}
	return fmt.Sprintf("no trainee %q among the %d of the study", e.Name, len(e.Known))
}

// check looks for the names among those of the study.
func (r Request) check(p practice.Practice) error {
	var ids []string
	for _, t := range p.Trainees {
		ids = append(ids, t.ID)
	}
	for _, id := range r.Only {
		if id == "" || !slices.Contains(ids, id) {
			return UnknownError{"trainee", id, slices.DeleteFunc(ids, func(s string) bool { return s == "" })}
		}
	}
	arms := slices.Clone(p.Arms)
	add := func(arm string) {
		if !slices.Contains(arms, arm) {
			arms = append(arms, arm)
		}
	}
	for _, u := range p.Until {
		add(u.Arm)
	}
	for _, e := range p.Endpoints {
		add(e.Arm)
	}
	if arms = slices.DeleteFunc(arms, func(a string) bool { return a == "" }); r.Arm != "" && !slices.Contains(arms, r.Arm) {
		return UnknownError{"arm", r.Arm, arms}
	}
	return nil
}

// Hides reports whether a trainee of an arm is kept out of what is shown.
func (r Request) Hides(trainee, arm string) bool {
	return r.Only != nil && !slices.Contains(r.Only, trainee) || r.Arm != "" && arm != r.Arm
}
