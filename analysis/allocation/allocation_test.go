package allocation

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"
)

var two = Arms{Names: []string{"usual", "new"}}

// Every block holds the arms in their shares, sizes are as likely as each other, and so are
// the orders within a block of two.
func TestBlocks(t *testing.T) {
	slots, err := Blocks(11, Arms{Names: []string{"a", "b", "c"}, Shares: []int{1, 2, 1}}, []int{4, 8}, []string{"north", "south"}, 3000)
	if err != nil {
		t.Fatal(err)
	}
	type key struct {
		stratum string
		block   int
	}
	count, size := map[key]map[string]int{}, map[key]int{}
	codes := map[string]bool{}
	for _, s := range slots {
		k := key{s.Stratum, s.Block}
		if count[k] == nil {
			count[k] = map[string]int{}
		}
		count[k][s.Arm]++
		size[k] = s.Size
		if codes[s.Code] {
			t.Fatalf("code %s is given twice", s.Code)
		}
		codes[s.Code] = true
	}
	fours := 0
	for k, c := range count {
		if c["a"]*4 != size[k] || c["b"]*2 != size[k] || c["c"]*4 != size[k] {
			t.Fatalf("block %v of %d holds %v", k, size[k], c)
		}
		if size[k] == 4 {
			fours++
		}
	}
	if n := float64(len(count)); math.Abs(float64(fours)-n/2) > 4*math.Sqrt(n/4) {
		t.Errorf("%d of %v blocks are of 4, want about half", fours, n)
	}
	pairs, err := Blocks(12, two, []int{2}, []string{""}, 4000)
	if err != nil {
		t.Fatal(err)
	}
	first := 0
	for i := 0; i < len(pairs); i += 2 {
		if pairs[i].Arm == "usual" {
			first++
		}
	}
	if math.Abs(float64(first)-1000) > 4*math.Sqrt(500) {
		t.Errorf("%d of 2000 blocks begin with usual, want about half", first)
	}
}

// The same seed gives the same list, a longer list begins with the shorter one, and strata
// do not hang on each other.
func TestBlocksAgain(t *testing.T) {
	short, _ := Blocks(3, two, []int{2, 4}, []string{"north"}, 10)
	long, _ := Blocks(3, two, []int{2, 4}, []string{"south", "north"}, 40)
	var north []Slot
	for _, s := range long {
		if s.Stratum == "north" {
			north = append(north, s)
		}
	}
	for i, s := range short {
		if north[i].Arm != s.Arm || north[i].Block != s.Block {
			t.Fatalf("place %d is %+v in the longer list, %+v in the shorter", i+1, north[i], s)
		}
	}
	other, _ := Blocks(4, two, []int{2, 4}, []string{"north"}, 40)
	if slices.EqualFunc(north, other, func(a, b Slot) bool { return a.Arm == b.Arm }) {
		t.Error("another seed gives the same list")
	}
}

// By hand, with a chance of 1. T1 (north, 1) meets no imbalance and goes to either arm, X.
// T2 (north, 2): to X would make north 2:0 and grade 2 1:0, together 3; to the other 1:1
// and 0:1, together 1; so to the other, Y. T3 (south, 1): to X south 1:0 and grade 1 2:0,
// together 3; to Y 0:1 and 1:1, together 1; so to Y. T4 (north, 2): to X north 2:1 and
// grade 2 1:1, together 1; to Y 1:2 and 0:2, together 3; so to X.
func TestMinimiseByHand(t *testing.T) {
	for seed := uint64(1); seed < 20; seed++ {
		placed, err := Minimise(seed, two, [][]string{{"north", "1"}, {"north", "2"}, {"south", "1"}, {"north", "2"}}, 1)
		if err != nil {
			t.Fatal(err)
		}
		x, y := placed[0].Arm, "new"
		ix, iy := 0, 1
		if x == "new" {
			y, ix, iy = "usual", 1, 0
		}
		for i, want := range []struct {
			arm  string
			x, y float64
		}{{x, 2, 2}, {y, 3, 1}, {y, 3, 1}, {x, 1, 3}} {
			if p := placed[i]; p.Arm != want.arm || p.Imbalance[ix] != want.x || p.Imbalance[iy] != want.y || !p.Favoured {
				t.Errorf("seed %d, trainee %d: %+v, want %s with %v and %v", seed, i+1, p, want.arm, want.x, want.y)
			}
		}
	}
}

// Both arms come first about as often; with a chance of 0.8 the favoured arm is taken in
// about 80 % of the choices that are none of equals; and trainees added change nothing.
func TestMinimiseByChance(t *testing.T) {
	var factors [][]string
	for i := range 2000 {
		factors = append(factors, []string{fmt.Sprint(i * 7 % 3), fmt.Sprint(i * i % 5)})
	}
	placed, err := Minimise(8, two, factors, 0.8)
	if err != nil {
		t.Fatal(err)
	}
	choices, favoured, usual := 0.0, 0.0, 0
	for _, p := range placed {
		if p.Imbalance[0] != p.Imbalance[1] {
			choices++
			if p.Favoured {
				favoured++
			}
		}
		if p.Arm == "usual" {
			usual++
		}
	}
	if math.Abs(favoured-0.8*choices) > 4*math.Sqrt(choices*0.16) {
		t.Errorf("the favoured arm is taken in %v of %v choices, want about 80 %%", favoured, choices)
	}
	if usual < 980 || usual > 1020 {
		t.Errorf("%d of 2000 are in one arm; minimisation keeps arms alike", usual)
	}
	fewer, _ := Minimise(8, two, factors[:50], 0.8)
	for i := range fewer {
		if fewer[i].Arm != placed[i].Arm || fewer[i].Code != placed[i].Code {
			t.Fatalf("trainee %d changes when others are added", i+1)
		}
	}
	first := 0
	for seed := range uint64(400) {
		if p, _ := Minimise(seed, two, factors[:1], 0.8); p[0].Arm == "usual" {
			first++
		}
	}
	if math.Abs(float64(first)-200) > 40 {
		t.Errorf("usual comes first with %d of 400 seeds, want about half", first)
	}
}

func TestWrongLists(t *testing.T) {
	for name, err := range map[string]error{
		"one arm":        second(Blocks(1, Arms{Names: []string{"a"}}, []int{2}, []string{""}, 4)),
		"arm twice":      second(Blocks(1, Arms{Names: []string{"a", "a"}}, []int{2}, []string{""}, 4)),
		"block of 3":     second(Blocks(1, two, []int{4, 3}, []string{""}, 4)),
		"no block":       second(Blocks(1, two, nil, []string{""}, 4)),
		"no places":      second(Blocks(1, two, []int{2}, []string{""}, 0)),
		"stratum twice":  second(Blocks(1, two, []int{2}, []string{"a", "a"}, 4)),
		"too many":       second(Blocks(1, two, []int{2}, []string{""}, MostSlots+1)),
		"share of 0":     second(Blocks(1, Arms{Names: []string{"a", "b"}, Shares: []int{0, 1}}, []int{2}, []string{""}, 4)),
		"chance of half": second(Minimise(1, two, [][]string{{"a"}}, 0.5)),
		"no factor":      second(Minimise(1, two, [][]string{{}}, 0.8)),
	} {
		if !errors.Is(err, ErrAllocation) {
			t.Errorf("%s: %v, want ErrAllocation", name, err)
		}
	}
}

func second[T any](_ T, err error) error { return err }
