package cohort

import (
	"context"
	"fmt"
	"reflect"
	"testing"

	"tyro/analysis/resample"
)

// A keeper gives the cohort's own numbers, and the same draws again where it has them:
// of members with all their attempts and of trainees without any, for the same seed.
func TestKeeper(t *testing.T) {
	ctx, sampling := context.Background(), resample.Sampling{Seed: 5, Workers: 2}
	ts := simulate(8, 12, 1, 1)
	c := mustRun(t, ts, exponential())
	k := c.Keep()
	asked := []Trainee{ts[2], {ID: "new", Arm: ts[0].Arm}, ts[2].Until(6)}
	want, err := c.Posteriors(ctx, asked, sampling)
	if err != nil {
		t.Fatal(err)
	}
	draws := func(ts []Trainee, p resample.Sampling) []Posterior {
		t.Helper()
		got, err := k.Posteriors(ctx, ts, p)
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	first := draws(asked, sampling)
	if !reflect.DeepEqual(first, want) {
		t.Error("kept posteriors differ from the cohort's")
	}
	again := draws([]Trainee{ts[5], asked[0], asked[1], asked[2]}, sampling)
	for i, shared := range []bool{true, true, false} {
		if got := &again[i+1].Draws[0] == &first[i].Draws[0]; got != shared {
			t.Errorf("series %d: shared %v, want %v", i, got, shared)
		}
	}
	moved := asked[0]
	moved.Response = append([]float64{1.5 * moved.Response[0]}, moved.Response[1:]...)
	other := draws([]Trainee{moved, asked[0]}, sampling)
	if &other[0].Draws[0] == &first[0].Draws[0] || &other[1].Draws[0] != &first[0].Draws[0] {
		t.Error("a member's code with other responses is taken for the member")
	}
	if seeded := draws(asked[:1], resample.Sampling{Seed: 6}); reflect.DeepEqual(seeded[0], first[0]) {
		t.Error("another seed gives the same draws")
	}
	for i := range mostKept {
		draws([]Trainee{{ID: fmt.Sprint("new ", i), Arm: ts[0].Arm}}, sampling)
	}
	if len(k.kept) != mostKept || len(k.order) != mostKept {
		t.Errorf("%d kept in an order of %d, want %d", len(k.kept), len(k.order), mostKept)
	}
	if late := draws(asked[:1], sampling); &late[0].Draws[0] == &first[0].Draws[0] || !reflect.DeepEqual(late[0], first[0]) {
		t.Error("the oldest is not dropped, or is not the same when made again")
	}
}
