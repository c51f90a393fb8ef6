package datasets

import "hash/maphash"

// A Place is whose attempt it was, at what and in which session: one for all the attempts
// that have it in common.
type Place struct {
	Trainee, Arm, Task, Session string

	nth int32 // of the log's places
}

// A placeList holds every place once, found by its hash.
type placeList struct {
	all   []*Place
	slots []placeSlot
	seed  maphash.Seed
	spare []Place // made together
}

// A placeSlot holds a place of the list; at counts from 1, and 0 is empty.
type placeSlot struct {
	hash uint32
	at   int32
}

// placesMade is how many places are made together.
const placesMade = 256

// of is the place of the list that is like another.
func (l *placeList) of(p Place) *Place {
	if 2*len(l.all) >= len(l.slots) {
		l.grow()
	}
	hash := uint32(maphash.Comparable(l.seed, [...]string{p.Trainee, p.Arm, p.Task, p.Session}))
	mask := uint32(len(l.slots) - 1)
	at := hash & mask
	for ; l.slots[at].at != 0; at = (at + 1) & mask {
		if l.slots[at].hash != hash {
			continue
		}
		if k := l.all[l.slots[at].at-1]; k.Trainee == p.Trainee && k.Session == p.Session && k.Arm == p.Arm && k.Task == p.Task {
			return k
		}
	}
	if len(l.spare) == 0 {
		l.spare = make([]Place, placesMade)
	}
	made := &l.spare[0]
	l.spare = l.spare[1:]
	*made = p
	made.nth = int32(len(l.all))
	l.all = append(l.all, made)
	l.slots[at] = placeSlot{hash, int32(len(l.all))}
	return made
}

func (l *placeList) grow() {
	if l.slots == nil {
		l.seed = maphash.MakeSeed()
	}
	before := l.slots
	l.slots = make([]placeSlot, max(1024, 2*len(before)))
	mask := uint32(len(l.slots) - 1)
	for _, s := range before {
		if s.at == 0 {
			continue
		}
		at := s.hash & mask
		for l.slots[at].at != 0 {
			at = (at + 1) & mask
		}
		l.slots[at] = s
	}
}

// A placing lists the places of a log's attempts with their trainees and tasks, since much of
// what is asked of attempts is the same for all of one place. All are in the order first seen.
type placing struct {
	all      []*Place
	of       []int32 // of each attempt, which place
	trainees []string
	trainee  []int32 // of each place, which trainee
	tasks    []string
	task     []int32
}

func (l Log) placing() placing {
	p := placing{of: make([]int32, len(l.Attempts)), all: make([]*Place, 0, len(l.places))}
	rank := make([]int32, len(l.places)) // of each place among those seen, from 1
	for i := range l.Attempts {
		nth := l.Attempts[i].nth
		if rank[nth] == 0 {
			p.all = append(p.all, l.places[nth])
			rank[nth] = int32(len(p.all))
		}
		p.of[i] = rank[nth] - 1
	}
	people := 0
	for i, at := range p.all {
		if i == 0 || at.Trainee != p.all[i-1].Trainee {
			people++
		}
	}
	p.trainees, p.trainee = numbered(p.all, people, func(at *Place) string { return at.Trainee })
	p.tasks, p.task = numbered(p.all, 0, func(at *Place) string { return at.Task })
	return p
}

// numbered are the names of places, each once in the order first seen, and of each place which.
// About as many names are expected.
func numbered(all []*Place, expected int, name func(*Place) string) (names []string, of []int32) {
	at, of := make(map[string]int32, expected), make([]int32, len(all))
	for i, p := range all {
		if i > 0 && name(p) == name(all[i-1]) {
			of[i] = of[i-1]
			continue
		}
		k, seen := at[name(p)]
		if !seen {
			k = int32(len(names))
			at[name(p)], names = k, append(names, name(p))
		}
		of[i] = k
	}
	return names, of
}

// A grouping lists attempts group by group, each group in the order of the log.
type grouping struct {
	rows []int32
	ends []int32 // of each group, within rows
}

func (g grouping) groups() int { return len(g.ends) }

// of are the attempts of one group.
func (g grouping) of(k int) []int32 {
	from := int32(0)
	if k > 0 {
		from = g.ends[k-1]
	}
	return g.rows[from:g.ends[k]:g.ends[k]]
}

// grouped are the attempts by the groups of their places; those of group -1 are left out.
func (p placing) grouped(group []int32, groups int) grouping {
	next := make([]int32, groups+1) // where a group's next attempt stands
	for _, place := range p.of {
		if g := group[place]; g >= 0 {
			next[g+1]++
		}
	}
	for g := range groups {
		next[g+1] += next[g]
	}
	out := grouping{rows: make([]int32, next[groups])}
	for i, place := range p.of {
		if g := group[place]; g >= 0 {
			out.rows[next[g]] = int32(i)
			next[g]++
		}
	}
	out.ends = next[:groups]
	return out
}

// A seriesList lists the attempts of each trainee at each task, in the order first seen.
type seriesList struct {
	grouping
	trainee []int32 // of each group
	task    []int32
}

func (p placing) series() seriesList {
	var s seriesList
	at, group := map[[2]int32]int32{}, make([]int32, len(p.all))
	for i := range p.all {
		k, seen := int32(len(s.trainee)), false
		if len(p.tasks) == 1 {
			k, seen = p.trainee[i], int(p.trainee[i]) < len(s.trainee)
		} else if g, known := at[[2]int32{p.trainee[i], p.task[i]}]; known {
			k, seen = g, true
		}
		if !seen {
			s.trainee, s.task = append(s.trainee, p.trainee[i]), append(s.task, p.task[i])
			if len(p.tasks) > 1 {
				at[[2]int32{p.trainee[i], p.task[i]}] = k
			}
		}
		group[i] = k
	}
	s.grouping = p.grouped(group, len(s.trainee))
	return s
}
