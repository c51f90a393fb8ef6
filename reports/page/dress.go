package page

import (
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// A wardrobe makes pictures fit for a page: smaller, readable at every width, and in
// colours that turn with the page's when it is dark. It remembers the colours it met.
type wardrobe struct {
	colours map[string]bool
}

// leastText is the smallest letter on a page, in pixels; a figure that needs no more than
// phoneText of width for it fits a phone's window.
const (
	leastText = 10.2
	phoneText = 345
)

var (
	svgElement  = regexp.MustCompile(`^<svg viewBox="0 0 ([0-9.]+) [0-9.]+" style="max-width:[0-9.]+pt"`)
	svgOpening  = regexp.MustCompile(`style="max-width:[0-9.]+pt"`)
	svgPaper    = regexp.MustCompile(`<path d="M[-0-9.]+,[-0-9.]+(?:L[-0-9.]+,[-0-9.]+){3}Z" style="fill:#FFFFFF" />\n`)
	svgCircle   = regexp.MustCompile(`^M([-0-9.]+),([-0-9.]+)A([0-9.]+),[0-9.]+ 0 1 1 [-0-9.]+,[-0-9.]+A[0-9.]+,[0-9.]+ 0 1 1 [-0-9.]+,[-0-9.]+Z$`)
	svgPlace    = regexp.MustCompile(`<text x="(-?[0-9.e+-]+)" y="(-?[0-9.e+-]+)" transform="scale\(1, -1\)" style`)
	svgFontSize = regexp.MustCompile(`font-size:([0-9.]+)px`)
	svgColour   = regexp.MustCompile(`(fill|stroke):#([0-9A-F]{6})`)
	svgFill     = regexp.MustCompile(`^fill:#([0-9A-F]{6})$`)
	svgLabel    = regexp.MustCompile(`aria-label="([^"]*)"`)
	svgBlank    = regexp.MustCompile(`\n{2,}`)
)

// dress rewrites every picture of a page, each on its own, side by side.
func (w *wardrobe) dress(html string) string {
	var parts []string // of the page, every second one a picture
	for html != "" {
		before, picture, rest := cutPicture(html)
		parts = append(parts, before, picture)
		html = rest
	}
	colours := make([]wardrobe, len(parts)/2)
	sideBySide(len(colours), 0, func(i int) {
		if picture := &parts[2*i+1]; *picture != "" {
			colours[i].colours = map[string]bool{}
			*picture = colours[i].one(*picture)
		}
	})
	for _, c := range colours {
		maps.Copy(w.colours, c.colours)
	}
	return strings.Join(parts, "")
}

// cutPicture finds the first picture of a page that is to be dressed; all is before it where
// there is none.
func cutPicture(html string) (before, picture, after string) {
	const opens, closes = "<svg ", "</svg>"
	for at := 0; ; at += len(opens) {
		i := strings.Index(html[at:], opens)
		if i < 0 {
			return html, "", ""
		}
		at += i
		if svgElement.MatchString(html[at:]) {
			end := at + strings.Index(html[at:], closes) + len(closes)
			return html[:at], html[at:end], html[end:]
		}
	}
}

// one rewrites a picture.
func (w *wardrobe) one(svg string) string {
	m := svgElement.FindStringSubmatch(svg)
	width, _ := strconv.ParseFloat(m[1], 64)
	least := math.Inf(1)
	for _, f := range svgFontSize.FindAllStringSubmatch(svg, -1) {
		v, _ := strconv.ParseFloat(f[1], 64)
		least = math.Min(least, v)
	}
	narrowest, widest := 0.0, width*1.7
	if !math.IsInf(least, 1) {
		narrowest = math.Ceil(width * leastText / least)
		widest = math.Max(widest, narrowest)
	}
	svg = svgPaper.ReplaceAllString(svg, "")
	svg = strings.ReplaceAll(svg, "transform=\"scale(1, -1)\"\n\tstyle", `transform="scale(1, -1)" style`)
	svg = rewritten(svgPlace, svg, func(m []string) string { // letters are turned upright by the page's style
		x, _ := strconv.ParseFloat(m[1], 64)
		y, _ := strconv.ParseFloat(m[2], 64)
		return fmt.Sprintf(`<text x="%s" y="%s" style`, tenth(x), tenth(y))
	})
	svg = svgBlank.ReplaceAllLiteralString(mergePaths(svg), "\n")
	svg = rewritten(svgColour, svg, func(m []string) string {
		w.colours[m[2]] = true
		return m[1] + ":var(--c" + m[2] + ")"
	})
	svg = svgOpening.ReplaceAllLiteralString(svg, fmt.Sprintf(`style="min-width:%.0fpx;max-width:%.0fpx"`, narrowest, widest))
	if narrowest <= phoneText {
		return fmt.Sprintf(`<div class="fig" style="--least:%.0fpx">%s</div>`, narrowest, svg)
	}
	label := svgLabel.FindStringSubmatch(svg)[1]
	return fmt.Sprintf(`<div class="fig" style="--least:%.0fpx" role="group" tabindex="0" aria-label="Picture: %s">%s</div>`, narrowest, label, svg)
}

// rewritten puts another text for every match, made of the match and its parts.
func rewritten(what *regexp.Regexp, text string, to func(match []string) string) string {
	var b strings.Builder
	at, match := 0, make([]string, what.NumSubexp()+1)
	for _, m := range what.FindAllStringSubmatchIndex(text, -1) {
		for k := range match {
			match[k] = text[m[2*k]:m[2*k+1]]
		}
		b.WriteString(text[at:m[0]])
		b.WriteString(to(match))
		at = m[1]
	}
	b.WriteString(text[at:])
	return b.String()
}

// cutPath finds the first path of a picture: what is before it, its steps and style, and what is
// after. found is false where there is none, and all is before it.
func cutPath(svg string) (before, d, style, after string, found bool) {
	const opens, closes = `<path d="`, `" />`
	at := strings.Index(svg, opens)
	if at < 0 {
		return svg, "", "", "", false
	}
	d, rest, _ := strings.Cut(svg[at+len(opens):], `"`)
	rest, styled := strings.CutPrefix(strings.TrimLeft(rest, " \n\t"), `style="`)
	style, after, closed := strings.Cut(rest, closes)
	if !styled || !closed || strings.Contains(style, `"`) {
		before, d, style, after, found = cutPath(svg[at+len(opens):])
		return svg[:at+len(opens)] + before, d, style, after, found
	}
	return svg[:at], d, style, after, true
}

// mergePaths shortens paths and joins neighbouring marks of one style: dots become points
// of a round pen.
func mergePaths(svg string) string {
	var b strings.Builder
	style, joined := "", ""
	flush := func() {
		if joined != "" {
			fmt.Fprintf(&b, "<path d=%q style=%q/>\n", compact(joined), style)
		}
		style, joined = "", ""
	}
	for {
		between, d, s, rest, found := cutPath(svg)
		if strings.TrimSpace(between) != "" || !found {
			flush()
			b.WriteString(between)
		}
		if !found {
			return b.String()
		}
		svg = rest
		if fill := svgFill.FindStringSubmatch(s); fill != nil && strings.Contains(d, "A") {
			if c := svgCircle.FindStringSubmatch(d); c != nil {
				x, _ := strconv.ParseFloat(c[1], 64)
				y, _ := strconv.ParseFloat(c[2], 64)
				r, _ := strconv.ParseFloat(c[3], 64)
				d = fmt.Sprintf("M%s,%sh0", tenth(x-r), tenth(y))
				s = fmt.Sprintf("stroke:#%s;stroke-width:%g;stroke-linecap:round", fill[1], 2*r)
			}
		}
		if s != style || strings.Contains(s, "opacity") || strings.HasPrefix(s, "fill:#") {
			flush()
		}
		style, joined = s, joined+d
	}
}

func tenth(v float64) string { return strconv.FormatFloat(math.Round(10*v)/10, 'f', -1, 64) }

// css defines the colours met, by day and by night. They are the pictures' own by day;
// by night dark and light change places and the hue stays.
func (w *wardrobe) css() string {
	var day, night strings.Builder
	for _, c := range slices.Sorted(maps.Keys(w.colours)) {
		fmt.Fprintf(&day, "--c%s:#%s;", c, c)
		fmt.Fprintf(&night, "--c%s:%s;", c, turned(c))
	}
	return fmt.Sprintf(":root{%s}\n@media screen and (prefers-color-scheme: dark){:root{%s}}\n", day.String(), night.String())
}

// turned is a colour of the same hue with dark and light changed: black becomes nearly
// white, and white the dark paper.
func turned(hex string) string {
	v, _ := strconv.ParseUint(hex, 16, 32)
	r, g, b := float64(v>>16&0xff)/255, float64(v>>8&0xff)/255, float64(v&0xff)/255
	hi, lo := max(r, g, b), min(r, g, b)
	light := (hi + lo) / 2
	const darkest, lightest = 0.09, 0.95
	to := lightest - (lightest-darkest)*light
	// Saturation stays, so the distance of each channel from the middle shrinks or grows
	// with the room that the new lightness leaves.
	room := func(l float64) float64 { return 1 - math.Abs(2*l-1) }
	scale := 0.0
	if room(light) > 0 {
		scale = room(to) / room(light)
	}
	channel := func(c float64) int {
		return int(math.Round(255 * math.Min(1, math.Max(0, to+(c-light)*scale))))
	}
	return fmt.Sprintf("#%02x%02x%02x", channel(r), channel(g), channel(b))
}

// dressed is a page with its pictures rewritten; their colours stand where the page says
// so.
func dressed(html string) string {
	w := &wardrobe{colours: map[string]bool{}}
	html, pens := named(w.dress(html))
	return strings.Replace(html, colourMark, w.css()+pens, 1)
}

// colourMark is where a page's colours of pictures go.
const colourMark = "/* colours of pictures */"
