// Package pattern holds regular expressions against very many short texts.
package pattern

import (
	"encoding/binary"
	"regexp"
	"regexp/syntax"
	"slices"
	"sync"
	"sync/atomic"
	"unicode/utf8"
)

// A Pattern is a regular expression that is held against every distinct cell of a column, of
// which there may be a million. It finds what the expression finds, from a table that says for
// each state and letter which state comes next (Thompson, 1968, Communications of the ACM
// 11(6)); the table is filled as letters are met.
type Pattern struct {
	expr   string
	made   sync.Once // when first used: most runs use few of them
	search *regexp.Regexp
	prog   *syntax.Prog
	start  *patternState
	found  *patternState
	filled sync.Mutex
	states map[string]*patternState
}

// A patternState is what a pattern knows after some letters.
type patternState struct {
	next   [utf8.RuneSelf]atomic.Pointer[patternState] // by letter
	others map[rune]*patternState                      // by letter beyond ASCII
	before rune                                        // the last letter, or one like it
	insts  []uint32                                    // instructions that may come next
	ends   bool                                        // the pattern is found where the text ends here
}

// mostStates bounds the table; texts that lead beyond it are searched without.
const mostStates = 4096

// New is the pattern of a regular expression, which must be one.
func New(expr string) *Pattern { return &Pattern{expr: expr} }

// String is the regular expression.
func (p *Pattern) String() string { return p.expr }

func (p *Pattern) make() {
	p.search = regexp.MustCompile(p.expr)
	parsed, err := syntax.Parse(p.expr, syntax.Perl)
	if err != nil {
		panic(err)
	}
	if p.prog, err = syntax.Compile(parsed.Simplify()); err != nil {
		panic(err)
	}
	p.found, p.states = &patternState{}, map[string]*patternState{}
	p.start = p.state(-1, nil)
}

// MatchString reports whether a text contains the pattern.
func (p *Pattern) MatchString(text string) bool {
	p.made.Do(p.make)
	s := p.start
	for _, c := range text {
		var next *patternState
		if c < utf8.RuneSelf {
			next = s.next[c].Load()
		}
		if next == nil {
			next = p.step(s, c)
		}
		switch next {
		case p.found:
			return true
		case nil:
			return p.search.MatchString(text)
		}
		s = next
	}
	return s.ends
}

// FindStringSubmatch is the text and the parts of the first place that matches; nil for none.
func (p *Pattern) FindStringSubmatch(text string) []string {
	if !p.MatchString(text) {
		return nil
	}
	return p.search.FindStringSubmatch(text)
}

// ReplaceAllString is the text with another in place of every match.
func (p *Pattern) ReplaceAllString(text, with string) string {
	if !p.MatchString(text) {
		return text
	}
	return p.search.ReplaceAllString(text, with)
}

// step is the state after one more letter; nil where the table is full.
func (p *Pattern) step(s *patternState, c rune) *patternState {
	p.filled.Lock()
	defer p.filled.Unlock()
	if next := s.others[c]; next != nil {
		return next
	}
	insts, found := p.reached(s.insts, syntax.EmptyOpContext(s.before, c))
	next := p.found
	if !found {
		var after []uint32
		for _, at := range insts {
			if inst := p.prog.Inst[at]; inst.MatchRune(c) {
				after = append(after, inst.Out)
			}
		}
		if next = p.state(likeLetter(c), after); next == nil {
			return nil
		}
	}
	if c < utf8.RuneSelf {
		s.next[c].Store(next)
	} else {
		if s.others == nil {
			s.others = map[rune]*patternState{}
		}
		s.others[c] = next
	}
	return next
}

// likeLetter is one letter for all that conditions such as the end of a word do not tell apart.
func likeLetter(c rune) rune {
	switch {
	case c == '\n':
		return '\n'
	case syntax.IsWordChar(c):
		return 'a'
	}
	return ' '
}

// state is the state with these instructions, and with the first one, since the pattern may
// begin anywhere; nil where the table is full.
func (p *Pattern) state(before rune, insts []uint32) *patternState {
	insts = append(insts, uint32(p.prog.Start))
	slices.Sort(insts)
	insts = slices.Compact(insts)
	key := binary.AppendVarint(nil, int64(before))
	for _, at := range insts {
		key = binary.AppendUvarint(key, uint64(at))
	}
	if s, known := p.states[string(key)]; known {
		return s
	}
	if len(p.states) == mostStates {
		return nil
	}
	s := &patternState{before: before, insts: insts}
	_, s.ends = p.reached(insts, syntax.EmptyOpContext(before, -1))
	p.states[string(key)] = s
	return s
}

// reached are the instructions that take a letter and come after some others where conditions
// on what stands before and after hold; found where the pattern ends there.
func (p *Pattern) reached(insts []uint32, holds syntax.EmptyOp) (letters []uint32, found bool) {
	seen := make([]bool, len(p.prog.Inst))
	open := slices.Clone(insts)
	for len(open) > 0 {
		at := open[len(open)-1]
		open = open[:len(open)-1]
		if seen[at] {
			continue
		}
		seen[at] = true
		switch inst := p.prog.Inst[at]; inst.Op {
		case syntax.InstAlt, syntax.InstAltMatch:
			open = append(open, inst.Out, inst.Arg)
		case syntax.InstCapture, syntax.InstNop:
			open = append(open, inst.Out)
		case syntax.InstEmptyWidth:
			if syntax.EmptyOp(inst.Arg)&^holds == 0 {
				open = append(open, inst.Out)
			}
		case syntax.InstMatch:
			return nil, true
		case syntax.InstRune, syntax.InstRune1, syntax.InstRuneAny, syntax.InstRuneAnyNotNL:
			letters = append(letters, at)
		}
	}
	return letters, false
}
