package plan

import (
	"errors"
	"math"
	"strings"
	"testing"

	"tyro/analysis/compare"
	"tyro/analysis/practice"
)

// threeArms is a study of three arms alike.
func threeArms(told string) Design {
	d := timed("rule-met-mean")
	d.Course.People, d.Course.Told = times("usual", "brief", "new"), told
	return d
}

// By hand: p of 0.03 and 0.02 are 0.04 and 0.03 by Holm, so that both are told apart;
// with 0.06 and 0.03 neither is, and with 0.2 and 0.01 one is.
func TestToldOfSeveralArms(t *testing.T) {
	ready := func(told string) (Design, *course) {
		d := threeArms(told)
		q, err := d.ready()
		if err != nil {
			t.Fatal(err)
		}
		return d, q.(*course)
	}
	for _, c := range []struct {
		brief, new           float64
		any, all, arm, other bool
	}{
		{0.03, 0.02, true, true, true, true}, {0.06, 0.03, false, false, false, false}, {0.2, 0.01, true, false, true, false}, {0.03, 0.2, false, false, false, false},
	} {
		xs := []compare.Contrast{{Estimate: 1, Lower: 0, Upper: 2, P: c.brief}, {Estimate: 3, Lower: 1, Upper: 5, P: c.new}}
		for told, want := range map[string]bool{AnyArm: c.any, AllArms: c.all, "new": c.arm, "brief": c.other} {
			d, q := ready(told)
			o := q.told(xs, 7)
			if d.Gave(o) != want || o.Failed != "" || o.Made != 7 {
				t.Errorf("p of %v and %v, %s: %+v", c.brief, c.new, told, o)
			}
			if one := told == "new"; one && (o.Estimate != 3 || o.Upper != 5) || (told == AnyArm || told == AllArms) && !math.IsNaN(float64(o.Estimate)) {
				t.Errorf("%s: %+v", told, o)
			}
		}
	}
}

// Arms that are alike are told apart in no more than 5 % of the studies, whichever is asked
// for, and all are rarer than one, one rarer than any.
func TestThreeArmsAlike(t *testing.T) {
	const studies = 200
	power := map[string]float64{}
	for _, told := range []string{AnyArm, AllArms, "new"} {
		d := threeArms(told)
		r := Summarise(d, mustSimulate(t, d, 0, studies, 2))
		if power[told] = r.Power; r.Failed > 2 || r.People != 36 {
			t.Errorf("%s: %+v", told, r)
		}
	}
	t.Log(power)
	if power[AnyArm] > 0.05+4*math.Sqrt(0.05*0.95/studies) || power[AllArms] > power["new"] || power["new"] > power[AnyArm] || power[AnyArm] == 0 {
		t.Errorf("told apart: %v", power)
	}
}

// Effects on one arm leave the others as they are.
func TestEffectsOfArms(t *testing.T) {
	d, err := threeArms(AnyArm).Apply([]Effect{{Arm: "new", Name: "plateau", Value: 0.5}, {Arm: "brief", Name: "level", Value: 1.2}})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range d.Course.People.Parameters {
		want := map[string][3]float64{"plateau": {45, 54, 22.5}, "gain": {130, 156, 130}, "rate": {0.2, 0.2, 0.2}, "spread": {0.2, 0.2, 0.2}}[p.Name]
		for k := range want {
			if math.Abs(float64(p.Values[k])-want[k]) > 1e-9 {
				t.Errorf("%s of arm %d: %v, want %v", p.Name, k, p.Values[k], want[k])
			}
		}
	}
	if truth, _ := d.Truth(); !math.IsNaN(truth) {
		t.Errorf("of several arms there is a truth of %v", truth)
	}
	d.Course.Contrast, d.Course.Told = "plateau", "brief"
	if truth, _ := d.Truth(); math.Abs(truth-1.2) > 1e-9 {
		t.Errorf("truth %v, want 1.2", truth)
	}
	for say, e := range map[string]Effect{"say of which arm": {Name: "plateau", Value: 2}, "of arm \"old\"": {Arm: "old", Name: "plateau", Value: 2}, "of arm \"usual\"": {Arm: "usual", Name: "plateau", Value: 2}} {
		if _, err := threeArms(AnyArm).Apply([]Effect{e}); !errors.Is(err, ErrDesign) || !strings.Contains(err.Error(), say) {
			t.Errorf("%+v: %v, want %q", e, err, say)
		}
	}
}

func TestStrangeArms(t *testing.T) {
	for say, change := range map[string]func(*Design){
		"expected one of the arms":  func(d *Design) { d.Course.Told = "" },
		"\"nobody\" is asked about": func(d *Design) { d.Course.Told = "nobody" },
		"can be called any":         func(d *Design) { d.Course.People.Arms[2] = "any" },
		"two arms are called":       func(d *Design) { d.Course.People.Arms[2] = "brief" },
		"width of an interval":      func(d *Design) { d.Width = 3 },
		"there is one arm beside":   func(d *Design) { d.Course.People = times("usual", "new") },
		"9 arms: expected one to 8": func(d *Design) { d.Course.People = times("1", "2", "3", "4", "5", "6", "7", "8", "9") },
	} {
		d := threeArms(AnyArm)
		change(&d)
		if err := d.Check(); !errors.Is(err, ErrDesign) || !strings.Contains(err.Error(), say) {
			t.Errorf("%v, want %q", err, say)
		}
	}
}

// What a study costs is of the trainees there are: 20 in one arm, 20 and 10 and 10 in three.
func TestCostOfTrainees(t *testing.T) {
	costs := &practice.Costs{PerTrainee: 3}
	one := timed("")
	one.Trainees, one.Course.People, one.Course.Quota = 20, times(""), &Quota{Share: 0.5}
	three := threeArms(AnyArm)
	three.Trainees, three.Allocation = 20, 0.5
	for name, c := range map[string]struct {
		d    Design
		want float64
	}{"one arm": {one, 60}, "three arms": {three, 120}} {
		if r := Summarise(c.d, mustSimulate(t, c.d, 0, 2, 1)).costing(costs); r.Cost != c.want {
			t.Errorf("%s: cost %v, want %v", name, r.Cost, c.want)
		}
	}
}
