package study

import (
	"context"
	"fmt"
	"math"
	"slices"

	"tyro/analysis/cohort"
	"tyro/analysis/resample"
)

// A CohortCalibration says how trainees' later halves of attempts fell in what the earlier
// halves predicted.
type CohortCalibration struct {
	N            int     // attempts
	Inside50     float64 // share of them in the middle half of their prediction
	Inside90     float64
	Lower, Upper float64 // 5-95 % range over trainees of the share inside 90 %
	Tenths       [10]int // attempts by tenth of their prediction
}

// CohortChecks compare the fit with cohorts simulated from it, and with itself without
// each trainee.
type CohortChecks struct {
	Shapes    cohort.Checks
	Attempts  []cohort.AttemptBand
	Influence cohort.Influences
	Evenness  cohort.Uniformity // Total is 0 where nothing is calibrated
}

// DefaultChecks is how many cohorts are simulated unless asked otherwise.
const DefaultChecks = 199

// calibrate counts where later attempts fell in their predictions.
func (w *cohortWork) calibrate(ctx context.Context) error {
	if !w.o.asks(PartCalibration) {
		return nil
	}
	halves, err := w.earlierHalves(ctx)
	if err != nil {
		return err
	}
	all, err := halves.Calibration(ctx)
	if err != nil {
		return err
	}
	known := slices.DeleteFunc(slices.Clone(all), func(t cohort.Transform) bool { return math.IsNaN(t.Value) })
	if left := len(all) - len(known); left > 0 {
		w.c.Warnings.Add("calibration-incomplete", fmt.Sprintf("the calibration leaves out attempts whose prediction is not known: %d of %d", left, len(all)))
	}
	if len(known) > 0 {
		w.c.Calibration = calibrationOf(known)
	}
	return nil
}

// earlierHalves are worked out once, for the calibration and for its check.
func (w *cohortWork) earlierHalves(ctx context.Context) (h *cohort.Halves, err error) {
	if w.halves == nil {
		of := w.c.Fit.Halves
		if w.c.Fit.Chosen != nil {
			of = w.c.Fit.Chosen.Halves
		}
		w.halves, err = of(ctx, w.Sampling())
	}
	return w.halves, err
}

func calibrationOf(ts []cohort.Transform) *CohortCalibration {
	c := &CohortCalibration{N: len(ts)}
	inside, all := map[int]float64{}, map[int]float64{}
	for _, t := range ts {
		c.Tenths[min(int(10*t.Value), 9)]++
		all[t.Trainee]++
		if t.Value > 0.25 && t.Value < 0.75 {
			c.Inside50 += 1 / float64(len(ts))
		}
		if t.Value > 0.05 && t.Value < 0.95 {
			c.Inside90 += 1 / float64(len(ts))
			inside[t.Trainee]++
		}
	}
	var shares []float64
	for i, n := range all {
		shares = append(shares, inside[i]/n)
	}
	slices.Sort(shares)
	c.Lower, c.Upper = resample.Quantile(shares, 0.05), resample.Quantile(shares, 0.95)
	return c
}

// checks runs the checks of fit.
func (w *cohortWork) checks(ctx context.Context) error {
	if w.o.Checks == 0 {
		return nil
	}
	if w.c.Fit.Rung == cohort.RungTwoStage {
		w.c.Warnings.Add("no-checks", "a cohort summarised in two stages has no likelihood to simulate from, so its fit is not checked")
		return nil
	}
	sampling := w.shown()
	sampling.Replicates = w.o.Checks
	var k CohortChecks
	var err error
	if k.Shapes, err = w.c.Fit.Checks(ctx, sampling); err != nil {
		return err
	}
	sampling.Progress = nil
	if k.Attempts, err = w.c.Fit.AttemptBands(ctx, sampling); err != nil {
		return err
	}
	if k.Influence, err = w.c.Fit.LeaveOneOut(ctx, sampling); err != nil {
		return err
	}
	halves, err := w.earlierHalves(ctx)
	if err != nil {
		return err
	}
	if k.Evenness, err = halves.Uniformity(ctx, sampling); err != nil {
		return err
	}
	w.c.Checks = &k
	return nil
}
