package grid

import (
	"strings"
	"unicode"
)

// putSeen is the cell with what is seen of a text. It remembers texts that are written in
// several ways and seen as one: with a letter that nobody sees, or an accent apart from its letter.
func (p *Pool) putSeen(raw string) Cell {
	text, before := Clean(raw), Cell(len(p.Texts))
	id := p.Put(text, Written)
	if id == 0 || raw == text && p.forms == nil {
		return id
	}
	form := withoutSpaces(raw)
	first, known := p.forms[id]
	switch {
	case known:
		p.twoWays[id] = p.twoWays[id] || first != form
	case form != withoutSpaces(text):
		if p.forms == nil {
			p.forms, p.twoWays = map[Cell]string{}, map[Cell]bool{}
		}
		p.forms[id], p.twoWays[id] = form, id < before
	}
	return id
}

// withoutSpaces is a text without the spaces that everybody types; one that does not break stays.
func withoutSpaces(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) && r < 0x80 {
			return -1
		}
		return r
	}, s)
}

// TwoWays reports whether a cell was written in several ways that are seen as one.
func (p *Pool) TwoWays(id Cell) bool { return p.twoWays[id] }

// SetTwoWays says so of a cell taken from another pool.
func (p *Pool) SetTwoWays(id Cell) {
	if p.twoWays == nil {
		p.forms, p.twoWays = map[Cell]string{}, map[Cell]bool{}
	}
	p.twoWays[id] = true
}

// InTwoWays lists the texts that were written in several ways seen as one.
func (p *Pool) InTwoWays() map[string]bool {
	out := map[string]bool{}
	for id, two := range p.twoWays {
		if two {
			out[p.Texts[id]] = true
		}
	}
	return out
}
