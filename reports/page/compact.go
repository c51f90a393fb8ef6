package page

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// pathSteps are the letters of a path's steps, and stepNumbers how many numbers each needs.
const pathSteps = "MLACQZh"

var stepNumbers = [len(pathSteps)]int{2, 2, 7, 6, 4, 0, 0}

// cutStep cuts the first step off a path: its letter and its numbers. Where there is no further
// step the letter is 0.
func cutStep(d string, into []float64) (letter byte, numbers []float64, rest string) {
	i := strings.IndexAny(d, pathSteps)
	if i < 0 {
		return 0, nil, ""
	}
	letter, numbers, d = d[i], into[:0], d[i+1:]
	for d != "" && strings.IndexByte(pathSteps, d[0]) < 0 {
		n := 0
		for n < len(d) && strings.IndexByte("+-.0123456789e", d[n]) >= 0 {
			n++
		}
		if v, err := strconv.ParseFloat(d[:n], 64); err == nil {
			numbers = append(numbers, v)
		}
		d = d[max(n, 1):]
	}
	return letter, numbers, d
}

// compact writes a path in steps from point to point, rounded to a tenth of a point: every
// place is rounded by itself, so that no error grows along the path. The page's script reads
// places off these steps (index.js).
func compact(d string) string {
	var b strings.Builder
	var x, y, startX, startY int // tenths of a point
	last := byte(0)
	command := func(c byte) {
		if c != last {
			b.WriteByte(c)
		}
		last = c
	}
	fresh := func() bool { s := b.String(); return s == "" || s[len(s)-1] >= 'a' }
	number := func(v int) {
		text := tenths(v)
		if !fresh() && text[0] != '-' {
			b.WriteByte(' ')
		}
		b.WriteString(text)
	}
	var letter byte
	var plain []float64
	var at []int
	for {
		if letter, plain, d = cutStep(d, plain); letter == 0 {
			return b.String()
		}
		if len(plain) < stepNumbers[strings.IndexByte(pathSteps, letter)] {
			continue // a place that is no number is not drawn
		}
		at = at[:0]
		for _, v := range plain {
			at = append(at, int(math.Round(10*v)))
		}
		switch letter {
		case 'M':
			last = 0 // two moves are no line
			command('m')
			number(at[0] - x)
			number(at[1] - y)
			x, y, startX, startY = at[0], at[1], at[0], at[1]
			last = 'l' // further pairs are lines
		case 'L':
			switch {
			case at[0] == x && at[1] == y: // nothing is drawn
			case at[1] == y:
				command('h')
				number(at[0] - x)
			case at[0] == x:
				command('v')
				number(at[1] - y)
			default:
				command('l')
				number(at[0] - x)
				number(at[1] - y)
			}
			x, y = at[0], at[1]
		case 'h':
			last = 0
			command('h')
			number(0)
		case 'A':
			command('a')
			number(int(math.Round(10 * plain[0])))
			fmt.Fprintf(&b, " %s 0 %g %g", tenths(int(math.Round(10*plain[1]))), plain[3], plain[4])
			number(at[5] - x)
			number(at[6] - y)
			x, y = at[5], at[6]
		case 'C', 'Q':
			command(letter - 'A' + 'a')
			for i := 0; i+1 < len(at); i += 2 {
				number(at[i] - x)
				number(at[i+1] - y)
			}
			x, y = at[len(at)-2], at[len(at)-1]
		case 'Z':
			last = 0
			command('z')
			x, y = startX, startY
		}
	}
}

// tenths is a number of tenths as SVG needs it.
func tenths(v int) string {
	text := strconv.FormatFloat(float64(v)/10, 'f', -1, 64)
	if rest, ok := strings.CutPrefix(text, "0."); ok {
		return "." + rest
	}
	if rest, ok := strings.CutPrefix(text, "-0."); ok {
		return "-." + rest
	}
	return text
}

// commonStyle is how often a style has to stand in a page's pictures to get a name.
const commonStyle = 20

var pictureStyle = regexp.MustCompile(` style="((?:fill|stroke|font-size)[^"]*)"`)

// named gives styles that pictures have often a name, and says what the names mean.
func named(html string) (out, css string) {
	times := map[string]int{}
	var order []string
	for _, m := range pictureStyle.FindAllStringSubmatch(html, -1) {
		if times[m[1]]++; times[m[1]] == commonStyle {
			order = append(order, m[1])
		}
	}
	names := map[string]string{}
	var b strings.Builder
	for i, style := range order {
		names[style] = fmt.Sprintf("pen%d", i)
		fmt.Fprintf(&b, ".pen%d{%s}\n", i, style)
	}
	return rewritten(pictureStyle, html, func(m []string) string {
		if name, ok := names[m[1]]; ok {
			return ` class="` + name + `"`
		}
		return m[0]
	}), b.String()
}
