package study

import (
	"fmt"
	"slices"
	"strings"

	"tyro/analysis/monitor"
	"tyro/analysis/stopping"
)

// The charts of a monitoring; see package monitor.
const (
	ChartLearning   = "learning"
	ChartRelapse    = "relapse"
	ChartSequential = "sequential"
	ChartObserved   = "observed-expected"
	ChartEWMA       = "ewma"
	ChartProjected  = "projected"
)

// MonitorCharts lists the charts.
func MonitorCharts() []string {
	return []string{ChartLearning, ChartRelapse, ChartEWMA, ChartObserved, ChartSequential, ChartProjected}
}

// Where relapse is watched from; the number of an attempt is another way to say it.
const (
	AfterRule   = "rule"   // the attempt that meets the rule
	AfterSignal = "signal" // the first signal of the learning chart
	AfterStart  = "start"  // the first attempt on
)

// MonitorOptions are the choices of a chart. Rates are failure rates. The zero value
// of a field means its default, so that MonitorOptions{} is the learning chart at the
// task's own failure rates.
type MonitorOptions struct {
	Chart      string        // "" means learning
	Rates      monitor.Rates // zero: the task's own
	H          float64       // limit; 0: chosen for FalseShare, or for RunLength
	FalseShare float64       // wanted chance of a false signal within Within attempts; 0 means 0.05
	RunLength  float64       // above 0: wanted mean attempts to a false signal instead
	Within     int           // 0 means 50
	Lambda     float64       // weight of the newest attempt, for ewma; 0 means 0.1
	Alpha      float64       // error chances of the sequential test; 0 means 0.05
	Beta       float64
	Headstart  float64 // where a sum starts, as a share of H

	After          string // where relapse is watched from; "": the rule where there is one
	Restarts       []MonitorRestart
	LimitsFromData bool // the rates or H were chosen from these same attempts

	OnMeasure bool    // chart the measure rather than passes
	SD        float64 // of the measure from attempt to attempt; 0: estimated

	Known int // attempts of each trainee that a projection may see; 0 means 10
	// Chances are each trainee's projected pass chances, by code, one for every attempt
	// that counts; nil: projected from the study's cohort.
	Chances map[string][]float64
}

// A MonitorRestart starts charts anew at an attempt, such as the first on a changed
// device.
type MonitorRestart struct {
	Trainee string // "" for everyone
	Attempt float64
}

// The largest choices: beyond them no chart is of use, and its error rates would take
// hours to work out.
const (
	mostLimit      = 1000.0 // of a chart of passes
	mostDeviations = 50.0   // of a chart of the measure
	mostWithin     = 10000
	mostRunLength  = 1e6
	leastLambda    = 0.001
)

// Check says what is wrong with the choices, each by its name on the command line.
func (o MonitorOptions) Check() error {
	share := func(v float64) bool { return v >= 0 && v < 1 }
	most := mostLimit
	if o.OnMeasure {
		most = mostDeviations
	}
	switch {
	case o.Chart != "" && !slices.Contains(MonitorCharts(), o.Chart):
		return fmt.Errorf("chart %q: expected %s", o.Chart, strings.Join(MonitorCharts(), ", "))
	case !(o.H >= 0 && o.H <= most):
		return fmt.Errorf("h %v: expected a number above 0 and at most %g", o.H, most)
	case o.Within < 0 || o.Within > mostWithin:
		return fmt.Errorf("within %d: expected 1 to %d attempts", o.Within, mostWithin)
	case !share(o.FalseShare):
		return fmt.Errorf("false-share %v: expected a number between 0 and 1", o.FalseShare)
	case o.RunLength != 0 && !(o.RunLength > 1 && o.RunLength <= mostRunLength):
		return fmt.Errorf("run-length %v: expected a number above 1 and at most %.0f", o.RunLength, mostRunLength)
	case o.Lambda != 0 && !(o.Lambda >= leastLambda && o.Lambda <= 1):
		return fmt.Errorf("lambda %v: expected a number from %g to 1", o.Lambda, leastLambda)
	case !share(o.Alpha):
		return fmt.Errorf("alpha %v: expected a chance above 0 and below 1", o.Alpha)
	case !share(o.Beta):
		return fmt.Errorf("beta %v: expected a chance above 0 and below 1", o.Beta)
	case !share(o.Headstart):
		return fmt.Errorf("headstart %v: expected a share of h from 0, below 1", o.Headstart)
	case !(o.SD >= 0):
		return fmt.Errorf("sd %v: expected a number above 0", o.SD)
	case o.Known < 0:
		return fmt.Errorf("known %d: expected at least 1 attempt", o.Known)
	}
	return nil
}

func (o MonitorOptions) orDefaults() MonitorOptions {
	if o.Chart == "" {
		o.Chart = ChartLearning
	}
	if o.Within == 0 {
		o.Within = stopping.ChartWithin
	}
	if o.Known == 0 {
		o.Known = 10
	}
	for _, d := range []struct {
		value *float64
		is    float64
	}{{&o.FalseShare, stopping.ChartFalse}, {&o.Lambda, 0.1}, {&o.Alpha, 0.05}, {&o.Beta, 0.05}} {
		if *d.value == 0 {
			*d.value = d.is
		}
	}
	return o
}
