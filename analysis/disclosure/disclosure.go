// Package disclosure hides small counts in tables that are given to others, so that nobody
// in them can be singled out, and so that no hidden count can be worked out from the rest.
//
// # Method
//
// A count above 0 and below the least that may be shown is hidden (primary suppression).
// Row and column totals are shown, so a count that is hidden alone in its row or column
// follows by subtraction; further counts are hidden, the smallest first, until every hidden
// count lies on a cycle of hidden ones, which can be raised and lowered in turn without
// changing a total (secondary suppression). Where the hidden counts of a line add up to so
// little that each is as good as known, more of the line is hidden.
//
// # Limits
//
// The table is one of two dimensions whose totals are all shown. Several tables about the
// same people are not protected against each other.
package disclosure

// Suppress says which counts of a table to hide, row by row; least is the smallest count
// above 0 that may be shown.
func Suppress(counts [][]int, least int) [][]bool {
	hidden := make([][]bool, len(counts))
	for i, row := range counts {
		hidden[i] = make([]bool, len(row))
		for j, n := range row {
			hidden[i][j] = n > 0 && n < least
		}
	}
	for {
		i, j, ok := exposed(counts, hidden, least)
		if !ok {
			return hidden
		}
		if !hideWith(counts, hidden, i, j) {
			hideAll(hidden)
			return hidden
		}
	}
}

// exposed finds a hidden count that the others and the totals tell, or that lies in a line
// whose hidden counts add up to less than the least that may be shown.
func exposed(counts [][]int, hidden [][]bool, least int) (int, int, bool) {
	for i := range counts {
		for j := range counts[i] {
			if hidden[i][j] && (!onCycle(hidden, i, j) || rowSum(counts, hidden, i) < least || columnSum(counts, hidden, j) < least) {
				return i, j, true
			}
		}
	}
	return 0, 0, false
}

func rowSum(counts [][]int, hidden [][]bool, i int) int {
	sum := 0
	for j, n := range counts[i] {
		if hidden[i][j] {
			sum += n
		}
	}
	return sum
}

func columnSum(counts [][]int, hidden [][]bool, j int) int {
	sum := 0
	for i := range counts {
		if hidden[i][j] {
			sum += counts[i][j]
		}
	}
	return sum
}

// onCycle reports whether a hidden count lies on a cycle of hidden counts that goes along
// rows and columns in turn: whether its row reaches its column without it.
func onCycle(hidden [][]bool, row, column int) bool {
	rows, columns := map[int]bool{row: true}, map[int]bool{}
	for grown := true; grown; {
		grown = false
		for i := range hidden {
			for j := range hidden[i] {
				if !hidden[i][j] || i == row && j == column || rows[i] == columns[j] {
					continue
				}
				rows[i], columns[j], grown = true, true, true
			}
		}
	}
	return columns[column]
}

// hideWith hides the counts that complete a cycle of four with one that is exposed: those
// of another row and another column that lose least, a count of 0 only where there is no
// other, since that nothing happened is rarely private and hiding it protects little.
func hideWith(counts [][]int, hidden [][]bool, row, column int) bool {
	const nothing = 1 << 30
	cost := func(i, j int) int {
		switch {
		case hidden[i][j]:
			return 0
		case counts[i][j] == 0:
			return nothing
		}
		return counts[i][j]
	}
	best, at := -1, [2]int{}
	for i := range counts {
		for j := range counts[i] {
			if i == row || j == column || hidden[i][j] && hidden[row][j] && hidden[i][column] {
				continue
			}
			if c := cost(i, j) + cost(row, j) + cost(i, column); best < 0 || c < best {
				best, at = c, [2]int{i, j}
			}
		}
	}
	if best < 0 {
		return false
	}
	hidden[at[0]][at[1]], hidden[row][at[1]], hidden[at[0]][column] = true, true, true
	return true
}

func hideAll(hidden [][]bool) {
	for i := range hidden {
		for j := range hidden[i] {
			hidden[i][j] = true
		}
	}
}
