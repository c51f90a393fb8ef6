package disclosure

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// possible lists for every hidden cell the smallest and the largest count that fit what is
// shown, by trying all: the hidden cells of a row are filled in every way that its total
// allows, and the columns' totals tell which fillings fit.
func possible(counts [][]int, hidden [][]bool) (low, high [][]int) {
	low, high = make([][]int, len(counts)), make([][]int, len(counts))
	columns := make([]int, len(counts[0])) // what is hidden of each column
	for i := range counts {
		low[i], high[i] = make([]int, len(counts[i])), make([]int, len(counts[i]))
		for j := range counts[i] {
			low[i][j], high[i][j] = 1<<30, -1
			if hidden[i][j] {
				columns[j] += counts[i][j]
			}
		}
	}
	tried := make([][]int, len(counts))
	for i := range tried {
		tried[i] = make([]int, len(counts[i]))
	}
	var fill func(i, j, left int)
	fill = func(i, j, left int) {
		switch {
		case i == len(counts):
			for _, n := range columns {
				if n != 0 {
					return
				}
			}
			for i := range counts {
				for j := range counts[i] {
					low[i][j], high[i][j] = min(low[i][j], tried[i][j]), max(high[i][j], tried[i][j])
				}
			}
		case j == len(counts[i]):
			if left == 0 {
				next := 0
				if i+1 < len(counts) {
					next = hiddenOf(counts, hidden, i+1)
				}
				fill(i+1, 0, next)
			}
		case !hidden[i][j]:
			fill(i, j+1, left)
		default:
			for n := 0; n <= min(left, columns[j]); n++ {
				tried[i][j] = n
				columns[j] -= n
				fill(i, j+1, left-n)
				columns[j] += n
			}
		}
	}
	fill(0, 0, hiddenOf(counts, hidden, 0))
	return low, high
}

// hiddenOf is what the hidden counts of a row add up to.
func hiddenOf(counts [][]int, hidden [][]bool, i int) int {
	sum := 0
	for j, n := range counts[i] {
		if hidden[i][j] {
			sum += n
		}
	}
	return sum
}

// No hidden count can be worked out from what is shown, on tables of all kinds.
func TestNothingHiddenFollows(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	hiddenAny := 0
	for range 400 {
		counts := make([][]int, 2+r.IntN(2))
		for i := range counts {
			counts[i] = make([]int, 3)
			for j := range counts[i] {
				counts[i][j] = r.IntN(9)
			}
		}
		hidden := Suppress(counts, 4)
		low, high := possible(counts, hidden)
		for i := range counts {
			for j, n := range counts[i] {
				if n > 0 && n < 4 && !hidden[i][j] {
					t.Fatalf("%v: the count %d is shown", counts, n)
				}
				if hidden[i][j] {
					hiddenAny++
				}
				if small := n > 0 && n < 4; small && low[i][j] == high[i][j] {
					t.Fatalf("%v hidden %v: the count %d in row %d follows from the totals", counts, hidden, n, i)
				}
			}
		}
	}
	if hiddenAny == 0 {
		t.Error("nothing was hidden")
	}
}

// By hand: the 2 is small and would follow from its row and column; of the cycles of four
// through it, the one with 6, 7 and 9 loses least.
func TestSecondary(t *testing.T) {
	hidden := Suppress([][]int{{2, 6, 40}, {7, 9, 50}, {30, 20, 60}}, 5)
	want := [][]bool{{true, true, false}, {true, true, false}, {false, false, false}}
	for i := range want {
		for j := range want[i] {
			if hidden[i][j] != want[i][j] {
				t.Fatalf("hidden %v, want %v", hidden, want)
			}
		}
	}
}

// Nothing small, nothing hidden; a table of one cell is hidden whole.
func TestPlain(t *testing.T) {
	if h := Suppress([][]int{{5, 0}, {9, 12}}, 5); h[0][0] || h[0][1] || h[1][0] || h[1][1] {
		t.Errorf("hidden %v, want none", h)
	}
	if h := Suppress([][]int{{1}}, 5); !h[0][0] {
		t.Error("the only count is shown")
	}
}

// By hand, with 5 as the fewest people: the 12 of the first row are one person's, though 12 is
// many; of the two cycles of four through it, the one with 30, 20 and 9 loses least (59, the
// other 107). In the second table two people did the 12 and the 10, which the last two cells of
// the second row (49, against 59) keep from being told one by one, but their sum, 22, would be
// those two people's: the first column is hidden too.
func TestEventsOfFewPeople(t *testing.T) {
	for _, x := range []struct {
		counts [][]int
		people []People
		want   [][]bool
	}{
		{[][]int{{30, 12, 8}, {20, 9, 90}}, []People{{0b101: 6, 0b111: 1}, {0b111: 5}}, [][]bool{{true, true, false}, {true, true, false}}},
		{[][]int{{30, 12, 10}, {20, 9, 40}}, []People{{0b001: 5, 0b111: 2}, {0b111: 5}}, [][]bool{{true, true, true}, {true, true, true}}},
		{[][]int{{30, 12}, {20, 9}}, []People{{0b01: 2, 0b11: 5}, {0b11: 5}}, [][]bool{{false, false}, {false, false}}},
	} {
		if hidden := SuppressEvents(x.counts, x.people, 5); !slices.EqualFunc(hidden, x.want, slices.Equal[[]bool]) {
			t.Errorf("%v: hidden %v, want %v", x.counts, hidden, x.want)
		}
	}
}
