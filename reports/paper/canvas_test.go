package paper

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"

	"tyro/reports/figure"
)

// sample is a figure with what is hard: letters beyond the usual code page, and colours
// that are seen through.
func sample(width float64) figure.Picture {
	p := plot.New()
	p.Title.Text, p.X.Label.Text, p.Y.Label.Text = "χ² ≥ 3 – a “test” → (x)", "attempt", "measure"
	area, err := plotter.NewPolygon(plotter.XYs{{X: 0, Y: 0}, {X: 8, Y: 0}, {X: 8, Y: 9}, {X: 0, Y: 9}})
	if err != nil {
		panic(err)
	}
	area.Color = color.NRGBA{0xc2, 0x6a, 0x17, 0x40}
	line, err := plotter.NewLine(plotter.XYs{{X: 0, Y: 10}, {X: 10, Y: 0}})
	if err != nil {
		panic(err)
	}
	line.Width = 2
	p.Add(area, line)
	return figure.Picture{Name: "sample", Width: width, Height: 150, Draw: func(c draw.Canvas) { p.Draw(c) }}
}

// A PNG has as many pixels as millimetres and resolution ask for, and states the
// resolution. By hand: 85/25.4·300 = 1003.9, 85/25.4·1000 = 3346.5, 175/25.4·300 = 2066.9,
// 175/25.4·1000 = 6889.8; 150 points are 625 and 2083.3; 300 and 1000 dots an inch are 11811
// and 39370 a metre.
func TestSizesOfPNG(t *testing.T) {
	for _, c := range []struct{ mm, dpi, wide, high, metre int }{
		{OneColumn, 300, 1004, 625, 11811}, {OneColumn, 1000, 3346, 2083, 39370}, {TwoColumns, 300, 2067, 625, 11811}, {TwoColumns, 1000, 6890, 2083, 39370},
	} {
		data, err := asPNG(sample(millimetres(c.mm)), c.dpi)
		if err != nil {
			t.Fatal(err)
		}
		config, err := png.DecodeConfig(bytes.NewReader(data))
		if err != nil || config.Width != c.wide || config.Height != c.high {
			t.Errorf("%d mm at %d dpi: %d by %d pixels, %v; want %d by %d", c.mm, c.dpi, config.Width, config.Height, err, c.wide, c.high)
		}
		if _, err := png.Decode(bytes.NewReader(data)); err != nil {
			t.Errorf("%d mm at %d dpi: %v", c.mm, c.dpi, err)
		}
		i := bytes.Index(data, []byte("pHYs"))
		if i < 0 || int(binary.BigEndian.Uint32(data[i+4:])) != c.metre || int(binary.BigEndian.Uint32(data[i+8:])) != c.metre || data[i+12] != 1 {
			t.Errorf("%d mm at %d dpi: the file does not state its resolution", c.mm, c.dpi)
		}
	}
}

// Fonts are inside PDF, SVG and EPS. The same figure gives the same bytes.
func TestFontsAreInside(t *testing.T) {
	p := sample(millimetres(OneColumn))
	for _, f := range formats[:3] {
		one, err := f.draw(p)
		if err != nil {
			t.Fatal(err)
		}
		two, err := f.draw(p)
		if err != nil || !bytes.Equal(one, two) {
			t.Errorf("%s is not the same twice (%v)", f.ending, err)
		}
		has := func(part string) bool { return bytes.Contains(one, []byte(part)) }
		switch f.ending {
		case ".pdf":
			if !has("/FontFile2") {
				t.Error("the PDF has no font inside")
			}
		case ".svg":
			if !has("@font-face") || !has("base64,") {
				t.Error("the SVG has no font inside")
			}
		case ".eps":
			if !bytes.HasPrefix(one, []byte("%!PS-Adobe-3.0 EPSF-3.0\n")) || !has("%%BoundingBox: 0 0 241 150\n") || !has("%%BeginResource: font ") || !has("currentfile eexec\n") || has("CreationDate") || !bytes.HasSuffix(one, []byte("showpage\n%%EOF\n")) {
				t.Errorf("the EPS is not in order: %.300s", one)
			}
		}
	}
}

// Rasterised by other programs, EPS and PDF look as the PNG does.
func TestFormatsLookAlike(t *testing.T) {
	for _, name := range []string{"gs", "pdftoppm"} {
		if _, err := exec.LookPath(name); err != nil {
			t.Skipf("no %s here (Debian: ghostscript, poppler-utils): the look of EPS and PDF is not compared", name)
		}
	}
	p, dir := sample(millimetres(TwoColumns)), t.TempDir()
	want, err := asPNG(p, 100)
	if err != nil {
		t.Fatal(err)
	}
	wanted, err := png.Decode(bytes.NewReader(want))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range formats[:2] {
		data, err := f.draw(p)
		if err != nil {
			t.Fatal(err)
		}
		from, to := filepath.Join(dir, "f"+f.ending), filepath.Join(dir, "f"+f.ending+".png")
		if err := os.WriteFile(from, data, 0o644); err != nil {
			t.Fatal(err)
		}
		draw := exec.Command("gs", "-q", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-dEPSCrop", "-sDEVICE=png16m", "-r100", "-dTextAlphaBits=4", "-dGraphicsAlphaBits=4", "-sOutputFile="+to, from)
		if f.ending == ".pdf" {
			draw = exec.Command("pdftoppm", "-r", "100", "-png", "-singlefile", from, to[:len(to)-4])
		}
		if out, err := draw.CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", f.ending, err, out)
		}
		drawn, err := os.ReadFile(to)
		if err != nil {
			t.Fatal(err)
		}
		got, err := png.Decode(bytes.NewReader(drawn))
		if err != nil {
			t.Fatal(err)
		}
		if d := apart(got, wanted); d > 0.02 {
			t.Errorf("%s: on average %.3f of black apart from the PNG", f.ending, d)
		}
		blank := image.NewRGBA(wanted.Bounds())
		for i := range blank.Pix {
			blank.Pix[i] = 0xff
		}
		if d := apart(got, blank); d < 0.04 {
			t.Errorf("%s: nearly blank (%.3f)", f.ending, d)
		}
	}
}

// Ghostscript finds the letters of an EPS file in a font that is inside it, and they can be
// read as text again, those beyond ASCII too.
func TestEPSFontIsEmbedded(t *testing.T) {
	for _, name := range []string{"gs", "pdffonts", "pdftotext"} {
		if _, err := exec.LookPath(name); err != nil {
			t.Skipf("no %s here (Debian: ghostscript, poppler-utils): the font of EPS is not looked at", name)
		}
	}
	data, err := asEPS(sample(millimetres(TwoColumns)))
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	from, to := filepath.Join(dir, "f.eps"), filepath.Join(dir, "f.pdf")
	if err := os.WriteFile(from, data, 0o644); err != nil {
		t.Fatal(err)
	}
	run := func(name string, args ...string) string {
		out, err := exec.Command(name, args...).CombinedOutput()
		if err != nil {
			t.Fatalf("%s: %v\n%s", name, err, out)
		}
		return string(out)
	}
	if said := run("gs", "-q", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-dEPSCrop", "-sDEVICE=pdfwrite", "-sOutputFile="+to, from); said != "" {
		t.Errorf("Ghostscript says %s", said)
	}
	fonts := strings.Split(strings.TrimSpace(run("pdffonts", to)), "\n")[2:]
	if len(fonts) == 0 {
		t.Error("no font in what Ghostscript made")
	}
	for _, f := range fonts {
		if !strings.Contains(f, "Type 1C") || !strings.Contains(f, "yes") {
			t.Errorf("a font that is not inside: %s", f)
		}
	}
	text := run("pdftotext", "-layout", to, "-")
	for _, want := range []string{"χ² ≥ 3 – a “test” → (x)", "attempt"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in the text: %q", want, text)
		}
	}
}

// apart is the mean difference of two pictures' pixels, as a share of black against white,
// where both have them.
func apart(a, b image.Image) float64 {
	w, h := min(a.Bounds().Dx(), b.Bounds().Dx()), min(a.Bounds().Dy(), b.Bounds().Dy())
	sum := 0.0
	for y := range h {
		for x := range w {
			r1, g1, b1, _ := a.At(a.Bounds().Min.X+x, a.Bounds().Min.Y+y).RGBA()
			r2, g2, b2, _ := b.At(b.Bounds().Min.X+x, b.Bounds().Min.Y+y).RGBA()
			for _, d := range []float64{float64(r1) - float64(r2), float64(g1) - float64(g2), float64(b1) - float64(b2)} {
				sum += max(d, -d) / 0xffff / 3
			}
		}
	}
	return sum / float64(w*h)
}
