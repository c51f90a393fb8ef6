package figure

import (
	"cmp"
	"strings"

	"gonum.org/v1/plot/vg/draw"

	"tyro/reports"
)

// A Picture is one figure, to be drawn on any canvas of its size.
type Picture struct {
	Name          string // of its file, without ending
	Legend        string // what it shows, in a sentence or two
	Finding       string // what can be read off it, for those who cannot see it; blank: the legend
	Width, Height float64
	Draw          func(draw.Canvas)
	Panels        []Picture // that it is made of, so that a page can lay them out itself; nil for one
}

// SVG is the picture as an inline SVG element; blank for none.
func (p Picture) SVG() (string, error) {
	if p.Draw == nil {
		return "", nil
	}
	return svg(p.Width, p.Height, cmp.Or(p.Finding, p.Legend), p.Draw)
}

// found is the picture with what can be read off it.
func (p Picture) found(words string) Picture {
	p.Finding = words
	return p
}

// named is the picture under a name, with more said in its legend.
func (p Picture) named(name, legend string) Picture {
	p.Name = name
	if legend != "" {
		p.Legend = legend
	}
	return p
}

// svgFiles are pictures as files of their own, by name.
func svgFiles(pictures []Picture) (map[string][]byte, error) {
	files := map[string][]byte{}
	for _, p := range pictures {
		s, err := p.SVG()
		if err != nil {
			return nil, err
		}
		if s != "" {
			files[p.Name+".svg"] = []byte(standalone(s))
		}
	}
	return files, nil
}

// fileNamed puts the command before a picture's name, where it is not there already, so
// that the pictures of a folder stand together by command.
func fileNamed(d reports.Document, name string) string {
	command := d.Head().Command
	switch {
	case name == command, strings.HasPrefix(name, command+"-"):
		return name
	case strings.HasSuffix(command, "-"+name):
		return command
	}
	return command + "-" + name
}
