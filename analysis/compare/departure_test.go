package compare

import (
	"context"
	"math"
	"testing"

	"tyro/analysis/resample"
)

// Ten trainees an arm with the same values but one; eight of the arm were not seen to the
// end. The tipping point is where moving them makes Shift's interval leave out 0, checked
// by Shift on either side of it.
func TestTippingPoint(t *testing.T) {
	values := []float64{3, 4, 5, 6, 7, 8, 9, 10, 11, 12}
	ref, arm := Arm{Name: "a", Values: values}, Arm{Name: "b", Values: append([]float64{3.5}, values[1:]...)}
	unseen := []bool{false, false, true, true, true, true, true, true, true, true}
	s := resample.Sampling{Seed: 1, Replicates: 499}
	d, err := Tipping(context.Background(), "m", ref, arm, unseen, true, 1, 40, false, nil, 0, s)
	if err != nil {
		t.Fatal(err)
	}
	if d.Unseen != 8 || !d.OpenBefore || !(d.Tip > 0 && d.Tip < 40) || d.Worse != "b" {
		t.Fatalf("%+v", d)
	}
	at := func(delta float64) Contrast {
		moved := arm
		moved.Values = append([]float64(nil), arm.Values...)
		for i, u := range unseen {
			if u {
				moved.Values[i] += delta
			}
		}
		c, err := Shift(context.Background(), "m", ref, moved, 0, s)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	if before, after := at(d.Tip-0.02), at(d.Tip+0.02); !before.Open() || after.Open() {
		t.Errorf("tip at %v: before it %v to %v, after %v to %v", d.Tip, before.Lower, before.Upper, after.Lower, after.Upper)
	}
	if d, err = Tipping(context.Background(), "m", ref, arm, make([]bool, 10), true, 1, 0, false, nil, 0, s); err != nil || !math.IsNaN(d.Tip) {
		t.Errorf("nobody unseen: %+v, %v", d, err)
	}
}
