package datasets

import "hash/maphash"

// A Place is whose attempt it was, at what, in which session and when: one for all the
// attempts that have it in common.
type Place struct {
	Trainee, Arm, Task, Session string
	Date                        string // 2026-02-28, or 2026-02-28 14:30; blank where not given
}

// A placing lists the places of a log's attempts, since much of what is asked of attempts is
// the same for all of one place.
type placing struct {
	all []*Place // in the order first seen
	of  []int32  // of each attempt, which of them
}

func (l Log) placing() placing {
	p := placing{of: make([]int32, len(l.Attempts))}
	at := map[*Place]int32{}
	for i, a := range l.Attempts {
		if i > 0 && a.Place == l.Attempts[i-1].Place {
			p.of[i] = p.of[i-1]
			continue
		}
		k, seen := at[a.Place]
		if !seen {
			k = int32(len(p.all))
			at[a.Place], p.all = k, append(p.all, a.Place)
		}
		p.of[i] = k
	}
	return p
}

// rowsBy are the rows of a log whose places have a key in common, in the order of the log, by
// key in the order first seen. Rows of places without a key are left out.
func rowsBy[K comparable](p placing, key func(*Place) (k K, has bool)) (keys []K, rows [][]int32) {
	at, group := map[K]int32{}, make([]int32, len(p.all)) // of each place; -1 for none
	for i, place := range p.all {
		k, has := key(place)
		if !has {
			group[i] = -1
			continue
		}
		g, seen := at[k]
		if !seen {
			g = int32(len(keys))
			at[k], keys = g, append(keys, k)
		}
		group[i] = g
	}
	sizes := make([]int32, len(keys))
	for _, place := range p.of {
		if g := group[place]; g >= 0 {
			sizes[g]++
		}
	}
	all := make([]int32, 0, len(p.of))
	rows = make([][]int32, len(keys))
	for g, n := range sizes {
		rows[g] = all[len(all) : len(all) : len(all)+int(n)]
		all = all[:len(all)+int(n)]
	}
	for i, place := range p.of {
		if g := group[place]; g >= 0 {
			rows[g] = append(rows[g], int32(i))
		}
	}
	return keys, rows
}

// A placeList holds every place once. A map by the places themselves would hold each twice, so
// that it goes by their hashes.
type placeList struct {
	last  *Place
	known map[uint64]*Place
	seed  maphash.Seed
}

func (l *placeList) of(p Place) *Place {
	if l.last != nil && *l.last == p {
		return l.last
	}
	if l.known == nil {
		l.known, l.seed = map[uint64]*Place{}, maphash.MakeSeed()
	}
	hash := maphash.Comparable(l.seed, p)
	at := l.known[hash]
	for at != nil && *at != p { // two places of one hash
		hash++
		at = l.known[hash]
	}
	if at == nil {
		at = new(Place) // the parameter itself would be kept for every row
		*at = p
		l.known[hash] = at
	}
	l.last = at
	return at
}
