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
// Where what is counted is not people but what they did, several times each, a count of any
// size can be that of one person: there the people behind a count say whether it is small, and
// those behind the hidden counts of a line whether these add up to enough ([SuppressEvents]).
//
// # Limits
//
// The table is one of two dimensions whose totals are all shown. Several tables about the
// same people are not protected against each other.
package disclosure

// People are those behind a row of counts, by the cells that each of them is in: bit j of the
// key stands for cell j.
type People map[uint]int

// Behind is how many people are in one or more of some cells.
func (p People) Behind(cells uint) int {
	sum := 0
	for in, n := range p {
		if in&cells != 0 {
			sum += n
		}
	}
	return sum
}

// Suppress says which counts of people to hide, row by row; least is the smallest count above 0
// that may be shown.
func Suppress(counts [][]int, least int) [][]bool {
	people := make([]People, len(counts))
	for i, row := range counts {
		people[i] = People{}
		for j, n := range row {
			people[i][1<<j] = n
		}
	}
	return SuppressEvents(counts, people, least)
}

// SuppressEvents says which counts of what people did to hide, row by row; least is the smallest
// number of people that may stand behind a count that is shown. Nobody is in two rows.
func SuppressEvents(counts [][]int, people []People, least int) [][]bool {
	hidden := make([][]bool, len(counts))
	for i, row := range counts {
		hidden[i] = make([]bool, len(row))
		for j, n := range row {
			hidden[i][j] = n > 0 && people[i].Behind(1<<j) < least
		}
	}
	for {
		i, j, ok := exposed(hidden, people, least)
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
// behind whose hidden counts are fewer people than may be shown.
func exposed(hidden [][]bool, people []People, least int) (int, int, bool) {
	for i := range hidden {
		for j := range hidden[i] {
			if hidden[i][j] && (!onCycle(hidden, i, j) || rowPeople(hidden, people, i) < least || columnPeople(hidden, people, j) < least) {
				return i, j, true
			}
		}
	}
	return 0, 0, false
}

func rowPeople(hidden [][]bool, people []People, i int) int {
	cells := uint(0)
	for j, h := range hidden[i] {
		if h {
			cells |= 1 << j
		}
	}
	return people[i].Behind(cells)
}

func columnPeople(hidden [][]bool, people []People, j int) int {
	sum := 0
	for i := range hidden {
		if hidden[i][j] {
			sum += people[i].Behind(1 << j)
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
