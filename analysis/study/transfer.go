package study

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"tyro/analysis/compare"
	"tyro/analysis/practice"
	"tyro/analysis/survival"
)

// TransferOnDevices asks what practice on a substitute saves on the task's own device,
// from a log that says on which device every attempt was made: device[trainee][attempt].
// The task's device is the one that every arm practised on; attempts on others before it
// are the prior practice. What is saved are attempts until the rule is met there.
func (s *Study) TransferOnDevices(ctx context.Context, device map[string]map[float64]string, reference string) (*OutcomeComparison, error) {
	if !s.Question.Standard.Set() || s.Task.Rule == nil {
		return nil, errors.New("transfer needs a standard and a rule, the same for all arms: give --standard and --rule, or set them in the study file")
	}
	target, err := s.targetDevice(device)
	if err != nil {
		return nil, err
	}
	d := &OutcomeComparison{Arms: s.Arms}
	if reference != "" && !slices.Contains(s.Arms, reference) {
		return nil, fmt.Errorf("reference %q is no arm of the data; they are %s", reference, strings.Join(s.Arms, ", "))
	}
	unseen := 0
	var arms []compare.Practised
	for _, arm := range s.Arms {
		a := compare.Practised{Name: ArmName(arm)}
		for _, i := range s.Members(arm) {
			t := s.Trainees[i]
			prior, own := 0.0, practice.Trainee{ID: t.ID, Limit: t.Limit, ErrorLimits: t.ErrorLimits}
			for _, x := range t.Counted() {
				switch {
				case device[t.ID][x.Number] == target:
					own.Attempts = append(own.Attempts, x)
				case len(own.Attempts) == 0:
					prior++
				}
			}
			if len(own.Attempts) == 0 {
				unseen++
				continue
			}
			spent := survival.Observation{Time: float64(len(own.Attempts))}
			if k := s.Task.Rule.FirstMet(own.Passes(s.Question.Standard)); k > 0 {
				spent = survival.Observation{Time: float64(k), Event: true}
			}
			a.Prior, a.Spent = append(a.Prior, prior), append(a.Spent, spent)
		}
		arms = append(arms, a)
	}
	t, err := compare.TransferOf(ctx, arms, s.Options.Level, s.Sampling())
	if err != nil {
		return nil, err
	}
	if reference != "" && t.Reference != reference {
		return nil, fmt.Errorf("the reference of transfer is the arm without practice on the substitute, which is %s", t.Reference)
	}
	d.Transfer = &t
	d.Warnings.Add("target-device", fmt.Sprintf("the task's device is taken to be %s, on which every arm practised; attempts on others before it are the prior practice", target))
	if unseen > 0 {
		d.Warnings.Add("never-on-task", counted(unseen, "trainee", "trainees")+" never practised on it and "+isAre(unseen)+" left out")
	}
	d.Warnings.With(t.Warnings)
	return d, nil
}

// targetDevice is the one device that trainees of every arm practised on.
func (s *Study) targetDevice(device map[string]map[float64]string) (string, error) {
	in := map[string]map[string]bool{}
	var names []string
	for _, t := range s.Trainees {
		for _, name := range device[t.ID] {
			if in[name] == nil {
				in[name] = map[string]bool{}
				names = append(names, name)
			}
			in[name][t.Arm] = true
		}
	}
	slices.Sort(names)
	shared := slices.DeleteFunc(slices.Clone(names), func(n string) bool { return len(in[n]) < len(s.Arms) })
	if len(shared) != 1 {
		return "", fmt.Errorf("transfer needs exactly one device that every arm practised on; of %s it is %d", strings.Join(names, ", "), len(shared))
	}
	return shared[0], nil
}
