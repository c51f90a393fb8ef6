package page

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	cdp "github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"tyro/analysis/study"
)

// A shownPage is a page of the demo with what it has to be: so many figures, letters so
// large, sheets of paper (0: any number).
type shownPage struct {
	path    string
	figures int
	least   float64
	sheets  int
}

// demoPages renders the demo study's pages into a folder: the researcher's, the
// director's, and those of two trainees, one of whom has met the rule.
func demoPages(t *testing.T) []shownPage {
	t.Helper()
	if madeIn.pages == nil {
		madeIn.pages = makePages(t)
	}
	return madeIn.pages
}

// madeIn are the pages, made once for all tests of this package and taken away after
// them.
var madeIn struct {
	dir   string
	pages []shownPage
}

func TestMain(m *testing.M) {
	status := m.Run()
	if madeIn.dir != "" {
		os.RemoveAll(madeIn.dir)
	}
	os.Exit(status)
}

func makePages(t *testing.T) []shownPage {
	t.Helper()
	dir, err := os.MkdirTemp("", "tyro-pages-")
	if err != nil {
		t.Fatal(err)
	}
	madeIn.dir = dir
	p, from := demoPractice(t)
	r, err := Run(t.Context(), ready(t, p, study.Options{Replicates: 40}))
	if err != nil {
		t.Fatal(err)
	}
	log, err := os.ReadFile(filepath.Join(from, "attempts.csv"))
	if err != nil {
		t.Fatal(err)
	}
	files, err := r.Files()
	if err != nil {
		t.Fatal(err)
	}
	files["attempts.csv"] = log
	trainees, err := r.TraineePages()
	if err != nil {
		t.Fatal(err)
	}
	for _, id := range []string{"T01", "T35"} {
		for _, p := range trainees {
			if p.ID == id {
				var b bytes.Buffer
				if err := p.Write(&b, ""); err != nil {
					t.Fatal(err)
				}
				files[id+".html"] = b.Bytes()
			}
		}
	}
	for name, data := range files {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	at := func(name string) string { return filepath.Join(dir, name) }
	return []shownPage{
		{at("index.html"), 40, 10, 0}, {at("director.html"), 1, 10, 1}, {at("T01.html"), 2, 16, 0}, {at("T35.html"), 2, 16, 0},
	}
}

// browser starts headless chromium. Without one the test is skipped, except
// where CI promises it.
func browser(t *testing.T) context.Context {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("no chromium, although CI installs one")
		}
		t.Skip("SKIPPED: no chromium on this machine, so the report's page is not looked at")
	}
	opts := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU)
	ctx, cancel := chromedp.NewExecAllocator(t.Context(), opts...)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	ctx, cancel = context.WithTimeout(ctx, 9*time.Minute)
	t.Cleanup(cancel)
	return ctx
}

// A sight is how a page is looked at.
type sight struct {
	width  int64
	scheme string
}

// sights are a desk and a phone, by day and by night.
func sights() []sight {
	return []sight{{1400, "light"}, {1400, "dark"}, {390, "light"}, {390, "dark"}}
}

func look(t *testing.T, ctx context.Context, page string, s sight) {
	t.Helper()
	scheme := emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: s.scheme}}}
	if _, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, scheme); err != nil {
		t.Fatal(err)
	}
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(s.width, 900), chromedp.Navigate("file://"+page)); err != nil {
		t.Fatal(err)
	}
}

// webTool is a file of an npm package that .ci/run installs; blank, said aloud, without.
func webTool(t *testing.T, name string) string {
	t.Helper()
	path := filepath.Join("..", "..", ".ci", "web", "node_modules", name)
	if _, err := os.Stat(path); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("no %s, although CI installs it", name)
		}
		t.Logf("SKIPPED: %s is not installed (.ci/run does)", name)
		return ""
	}
	return path
}

// Every page asks nobody for anything, reports no error, does not run out of a wide or a
// narrow window by day or by night, has letters that can be read, and no label in a figure
// is cut off or lies on another. Every figure is seen once, whole, without moving it
// sideways, and says what can be read off it. axe-core finds nothing.
func TestPagesInABrowser(t *testing.T) {
	ctx := browser(t)
	pages := demoPages(t)
	var mu sync.Mutex
	var asked, errors []string
	err := chromedp.Listen(ctx, func(ev any) {
		mu.Lock()
		defer mu.Unlock()
		switch e := ev.(type) {
		case *network.EventRequestWillBeSent:
			if u, err := url.Parse(e.Request.URL); err != nil || !strings.HasSuffix(e.Request.URL, ".html") && u.Scheme != "data" {
				asked = append(asked, e.Request.URL)
			}
		case *cdp.EventExceptionThrown:
			errors = append(errors, e.ExceptionDetails.Text)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := chromedp.Call(ctx, network.Enable, network.EnableParams{}); err != nil {
		t.Fatal(err)
	}
	axe := ""
	if path := webTool(t, "axe-core/axe.min.js"); path != "" {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		axe = string(text)
	}
	for _, p := range pages {
		for _, s := range sights() {
			where := fmt.Sprintf("%s, width %d, %s", filepath.Base(p.path), s.width, s.scheme)
			look(t, ctx, p.path, s)
			evaluate[any](t, ctx, `document.querySelectorAll("details").forEach(d => { d.open = true; })`)
			if overflow := evaluate[int](t, ctx, `document.documentElement.scrollWidth - document.documentElement.clientWidth`); overflow > 0 {
				t.Errorf("%s: the page is %d pixels wider than its window", where, overflow)
			}
			if bad := evaluate[[]string](t, ctx, labelsScript); len(bad) > 0 {
				t.Errorf("%s: labels cut off or on one another: %s", where, strings.Join(bad, "; "))
			}
			if n := evaluate[int](t, ctx, `document.querySelectorAll("svg").length`); n < p.figures {
				t.Errorf("%s: %d figures, want %d", where, n, p.figures)
			}
			if least := evaluate[float64](t, ctx, leastTextScript); least < p.least {
				t.Errorf("%s: the smallest letters are %.1f pixels, want %g", where, least, p.least)
			}
			if bad := evaluate[[]string](t, ctx, figuresScript); len(bad) > 0 {
				t.Errorf("%s: %s", where, strings.Join(bad, "; "))
			}
			if bad := evaluate[[]string](t, ctx, contrastScript); len(bad) > 0 {
				t.Errorf("%s: letters that can hardly be read: %s", where, strings.Join(bad, "; "))
			}
			if axe == "" {
				continue
			}
			evaluate[any](t, ctx, axe+";0")
			found, err := chromedp.Run(ctx, chromedp.Evaluate[[]string](axeScript, chromedp.EvalAwaitPromise))
			if err != nil {
				t.Fatal(err)
			}
			if len(found) > 0 {
				t.Errorf("%s: axe-core finds %s", where, strings.Join(found, "\n"))
			}
		}
	}
	if len(asked) > 0 || len(errors) > 0 {
		t.Errorf("the pages ask for %v and report %v", asked, errors)
	}
}

// The pages of studies of other kinds (one arm; nobody reaches; everybody reaches at once;
// three trainees) hold as the demo's do, at a desk and on a phone.
func TestOtherStudiesInABrowser(t *testing.T) {
	axe := ""
	if path := webTool(t, "axe-core/axe.min.js"); path != "" {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		axe = string(text)
	}
	for _, m := range theStudies {
		t.Run(m.name, func(t *testing.T) {
			ctx := browser(t)
			r, err := Run(t.Context(), studyIn(t, m.write(t), study.Options{Replicates: 40, Families: family(t, "exponential")}))
			if err != nil {
				t.Fatal(err)
			}
			files, err := r.Files()
			if err != nil {
				t.Fatal(err)
			}
			pages, err := r.TraineePages()
			if err != nil {
				t.Fatal(err)
			}
			var b bytes.Buffer
			if err := pages[len(pages)-1].Write(&b, ""); err != nil {
				t.Fatal(err)
			}
			files["trainee.html"] = b.Bytes()
			dir := t.TempDir()
			for _, p := range []struct {
				name  string
				least float64
			}{{"index.html", 10}, {"director.html", 10}, {"trainee.html", 16}} {
				path := filepath.Join(dir, p.name)
				if err := os.WriteFile(path, files[p.name], 0o644); err != nil {
					t.Fatal(err)
				}
				for _, s := range []sight{{1400, "light"}, {390, "dark"}} {
					where := fmt.Sprintf("%s, width %d, %s", p.name, s.width, s.scheme)
					look(t, ctx, path, s)
					evaluate[any](t, ctx, `document.querySelectorAll("details").forEach(d => { d.open = true; })`)
					if overflow := evaluate[int](t, ctx, `document.documentElement.scrollWidth - document.documentElement.clientWidth`); overflow > 0 {
						t.Errorf("%s: the page is %d pixels wider than its window", where, overflow)
					}
					for _, script := range []string{labelsScript, figuresScript, contrastScript} {
						if bad := evaluate[[]string](t, ctx, script); len(bad) > 0 {
							t.Errorf("%s: %s", where, strings.Join(bad, "; "))
						}
					}
					if least := evaluate[float64](t, ctx, leastTextScript); least < p.least {
						t.Errorf("%s: the smallest letters are %.1f pixels, want %g", where, least, p.least)
					}
					if axe == "" {
						continue
					}
					evaluate[any](t, ctx, axe+";0")
					found, err := chromedp.Run(ctx, chromedp.Evaluate[[]string](axeScript, chromedp.EvalAwaitPromise))
					if err != nil || len(found) > 0 {
						t.Errorf("%s: axe-core finds %s (%v)", where, strings.Join(found, "\n"), err)
					}
				}
			}
		})
	}
}

// figuresScript lists figures that have to be moved sideways, that are seen twice or not at
// all, or whose words for those who cannot see them give no number.
const figuresScript = `(() => {
  const seen = e => e.getClientRects().length > 0, bad = [];
  for (const f of document.querySelectorAll(".fig")) {
    if (seen(f) && f.scrollWidth > f.clientWidth + 1) bad.push("moved sideways: " + f.querySelector("svg").getAttribute("aria-label").slice(0, 60) + " " + f.scrollWidth + " in " + f.clientWidth);
  }
  for (const w of document.querySelectorAll(".wide")) {
    if (seen(w) === seen(w.nextElementSibling)) bad.push("seen twice or not at all: " + w.querySelector("svg").getAttribute("aria-label").slice(0, 60));
  }
  for (const s of document.querySelectorAll("svg[role=img]")) {
    const says = s.getAttribute("aria-label");
    if (!/[0-9]/.test(says) && !/^(Letters and colours|QR code)/.test(says)) bad.push("says nothing that was found: " + says);
  }
  return [...new Set(bad)].slice(0, 12);
})()`

// contrastScript lists letters in figures whose contrast with the page is below 4.5 (WCAG
// 2.2, success criterion 1.4.3). Those of a table of colours stand on their own ground.
const contrastScript = `(() => {
  const light = c => {
    const [r, g, b] = c.match(/[0-9.]+/g).map(Number).map(v => v / 255).map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const paper = light(getComputedStyle(document.body).backgroundColor), bad = new Set();
  for (const t of document.querySelectorAll("svg[role=img] text")) {
    if (/absolute coefficient/.test(t.closest("svg").getAttribute("aria-label"))) continue;
    const ink = light(getComputedStyle(t).fill), ratio = (Math.max(ink, paper) + 0.05) / (Math.min(ink, paper) + 0.05);
    if (ratio < 4.5) bad.add(t.textContent + " " + ratio.toFixed(1));
  }
  return [...bad].slice(0, 8);
})()`

// axeScript lists what axe-core finds.
//
// What is inside of a picture is no part of the page for those who read it by ear, and there
// is much of it: the contrast of its letters is looked at by contrastScript.
const axeScript = `axe.run({exclude: [["svg[role=img] > *"]]}, {resultTypes: ["violations"]}).then(r => r.violations.map(v => v.id + ": " + v.help + " " + v.nodes.slice(0, 3).map(n => n.html.slice(0, 160) + " " + (n.failureSummary || "").slice(0, 240)).join(" | ")))`

// leastTextScript is the height of the smallest letters that can be seen, as drawn.
const leastTextScript = `(() => {
  let least = 1e9;
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const e = walk.currentNode.parentElement;
    if (!walk.currentNode.textContent.trim() || e.closest("style, script, [hidden], thead[style]")) continue;
    const box = e.getBoundingClientRect();
    if (box.width < 2 || box.height < 2) continue;
    let size = parseFloat(getComputedStyle(e).fontSize);
    const svg = e.closest("svg");
    if (svg) size *= svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
    least = Math.min(least, size);
  }
  return least;
})()`

// On paper the director's page is one sheet of A4 or letter; on the researcher's page and
// the trainee's nothing is cut off at the edge of the paper, and no heading stands alone
// at the foot of a page for want of a rule against it.
func TestPagesOnPaper(t *testing.T) {
	ctx := browser(t)
	for _, p := range demoPages(t) {
		look(t, ctx, p.path, sight{1400, "light"})
		for name, size := range map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "letter": chromedp.PaperLetter} {
			pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPaper(size), chromedp.PDFPreferCSSPageSize()))
			if err != nil {
				t.Fatal(err)
			}
			sheets := len(regexp.MustCompile(`/Type /Page\b[^s]`).FindAll(pdf, -1))
			if sheets == 0 || p.sheets > 0 && sheets != p.sheets {
				t.Errorf("%s on %s: %d sheets, want %d", filepath.Base(p.path), name, sheets, p.sheets)
			}
			t.Logf("%s on %s: %d sheets", filepath.Base(p.path), name, sheets)
		}
		// The width of A4 between margins of 12 mm is 186 mm, 703 pixels.
		if _, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}); err != nil {
			t.Fatal(err)
		}
		if err := chromedp.Do(ctx, chromedp.EmulateViewport(703, 900)); err != nil {
			t.Fatal(err)
		}
		if cut := evaluate[[]string](t, ctx, cutScript); len(cut) > 0 {
			t.Errorf("%s: wider than the paper: %s", filepath.Base(p.path), strings.Join(cut, "; "))
		}
		if twice := evaluate[int](t, ctx, `[...document.querySelectorAll(".narrow")].filter(e => e.getClientRects().length).length`); twice > 0 {
			t.Errorf("%s: %d figures are printed twice", filepath.Base(p.path), twice)
		}
		if rule := evaluate[string](t, ctx, `getComputedStyle(document.querySelector("h2")).breakAfter`); rule != "avoid" {
			t.Errorf("%s: headings may stand alone: %s", filepath.Base(p.path), rule)
		}
		if _, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{}); err != nil {
			t.Fatal(err)
		}
	}
}

// cutScript lists what is wider than the page or its own box on paper.
const cutScript = `(() => {
  const edge = document.documentElement.clientWidth + 1, bad = [];
  for (const e of document.querySelectorAll("p, li, h1, h2, h3, td, th, caption, svg, dd, figcaption")) {
    const b = e.getBoundingClientRect();
    if (b.width > 0 && b.right > edge) bad.push(e.tagName + " " + Math.round(b.right - edge) + " px: " + (e.closest("table") ? e.closest("table").caption?.textContent + ": " : "") + e.textContent.trim().slice(0, 40));
    if (e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0 && !(e instanceof SVGElement)) bad.push("text out of its box: " + e.textContent.trim().slice(0, 40));
  }
  return [...new Set(bad)].slice(0, 8);
})()`

// The validator of HTML finds nothing on any page.
func TestPagesAreValidHTML(t *testing.T) {
	jar := webTool(t, "vnu-jar/build/dist/vnu.jar")
	java, err := exec.LookPath("java")
	if jar == "" || err != nil {
		t.Skip("SKIPPED: no validator of HTML on this machine")
	}
	args := []string{"-jar", jar, "--format", "gnu"}
	for _, p := range demoPages(t) {
		args = append(args, p.path)
	}
	out, err := exec.Command(java, args...).CombinedOutput()
	if err != nil || len(out) > 0 {
		t.Errorf("%v: %s", err, out)
	}
}

// What the researcher's page adds by script: a trainee is pointed out in tables and
// figures alike, an arm is chosen, a table is copied, and values follow the pointer. Every
// section is there without script.
func TestIndexScript(t *testing.T) {
	ctx := browser(t)
	page := demoPages(t)[0].path
	look(t, ctx, page, sight{1400, "light"})
	evaluate[any](t, ctx, `document.querySelectorAll("details").forEach(d => { d.open = true; })`)
	set := func(id, value string) {
		evaluate[any](t, ctx, fmt.Sprintf(`(() => { const s = document.getElementById(%q); s.value = %q; s.dispatchEvent(new Event("change")); })()`, id, value))
	}
	set("who", "T07")
	if n := evaluate[int](t, ctx, `document.querySelectorAll(".chosen").length`); n < 5 {
		t.Errorf("T07 is pointed out %d times", n)
	}
	if n := evaluate[int](t, ctx, `[...document.querySelectorAll(".chosen")].filter(e => e.dataset.trainee !== "T07").length`); n > 0 {
		t.Errorf("%d others are pointed out", n)
	}
	if n := evaluate[int](t, ctx, `document.querySelectorAll("svg g.chosen path").length`); n < 2 {
		t.Errorf("T07 is pointed out by %d lines in figures", n)
	}
	set("arm", "massed")
	if n := evaluate[int](t, ctx, `[...document.querySelectorAll("[data-arm=spaced]")].filter(e => e.getClientRects().length).length`); n > 0 {
		t.Errorf("%d rows or figures of the other arm are still seen", n)
	}
	if n := evaluate[int](t, ctx, `[...document.querySelectorAll("[data-arm=massed]")].filter(e => e.getClientRects().length).length`); n < 18 {
		t.Errorf("%d rows or figures of the arm are seen", n)
	}
	set("arm", "")
	if n := evaluate[int](t, ctx, `document.querySelectorAll("table").length - document.querySelectorAll("button.copy").length`); n != 0 {
		t.Errorf("%d tables cannot be copied", n)
	}
	checkReadings(t, ctx, filepath.Join(filepath.Dir(page), "attempts.csv"))
}

// checkReadings points at marks. Of the first trainee, every attempt that was done reads its
// number and its seconds in the log, as far as a tenth of a point in the figure tells them
// apart; and in every figure that has axes there is something to read.
func checkReadings(t *testing.T, ctx context.Context, log string) {
	t.Helper()
	rows := rowsOf(t, log)
	column := func(r []string, name string) string { return r[slices.Index(rows[0], name)] }
	tried := 0
	for _, r := range rows[1:] {
		if column(r, "trainee") != rows[1][slices.Index(rows[0], "trainee")] || column(r, "outcome") != "done" {
			continue
		}
		tried++
		tip := evaluate[string](t, ctx, fmt.Sprintf(`(() => {
		  const svg = document.querySelector(".plot[data-trainee=%s] svg"), axes = svg.querySelector("[data-axes]"), m = axes.getScreenCTM();
		  const [x0, x1, u0, u1, y0, y1, v0, v1] = axes.dataset.axes.split(" ").map(Number);
		  const at = new DOMPoint(x0 + (%s - u0) / (u1 - u0) * (x1 - x0), y0 + (%s - v0) / (v1 - v0) * (y1 - y0)).matrixTransform(m);
		  svg.dispatchEvent(new PointerEvent("pointermove", {bubbles: true, clientX: at.x, clientY: at.y}));
		  return document.getElementById("tip").textContent;
		})()`, column(r, "trainee"), column(r, "attempt"), column(r, "seconds")))
		m := regexp.MustCompile(`^(\S+), attempt (\d+), seconds \(s\) ([0-9.]+)$`).FindStringSubmatch(tip)
		if m == nil {
			t.Errorf("attempt %s: the pointer reads %q", column(r, "attempt"), tip)
			continue
		}
		read, _ := strconv.ParseFloat(m[3], 64)
		done, _ := strconv.ParseFloat(column(r, "seconds"), 64)
		if m[1] != column(r, "trainee") || m[2] != column(r, "attempt") || math.Abs(read-done) > 0.6 {
			t.Errorf("attempt %s of %s s: the pointer reads %q", column(r, "attempt"), column(r, "seconds"), tip)
		}
	}
	if tried < 10 {
		t.Errorf("%d attempts were pointed at", tried)
	}
	if silent := evaluate[[]string](t, ctx, silentScript); len(silent) > 0 {
		t.Errorf("nothing can be read off %s", strings.Join(silent, "; "))
	}
}

// silentScript lists figures with axes in which no mark can be read, and figures without
// axes, apart from those whose values are written in them.
const silentScript = `(() => {
  const bad = [], tip = document.getElementById("tip");
  for (const svg of document.querySelectorAll("svg[role=img]")) {
    if (!svg.getClientRects().length) continue;
    const axes = svg.querySelector("[data-axes]"), name = svg.getAttribute("aria-label").slice(0, 60);
    if (!axes) {
      if (!/absolute coefficient|Letters and colours/.test(svg.getAttribute("aria-label"))) bad.push(name + " has no axes");
      continue;
    }
    const m = axes.getScreenCTM(), [x0, x1, , , y0, y1] = axes.dataset.axes.split(" ").map(Number);
    let read = "";
    for (let i = 0; i <= 40 && !read; i++) for (let j = 0; j <= 40 && !read; j++) {
      const at = new DOMPoint(x0 + i / 40 * (x1 - x0), y0 + j / 40 * (y1 - y0)).matrixTransform(m);
      svg.dispatchEvent(new PointerEvent("pointermove", {bubbles: true, clientX: at.x, clientY: at.y}));
      if (!tip.hidden) read = tip.textContent;
    }
    if (!read || /NaN|undefined|null/.test(read)) bad.push(name + " reads " + read);
  }
  return bad.slice(0, 12);
})()`

func evaluate[T any](t *testing.T, ctx context.Context, script string) T {
	t.Helper()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](script))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// labelsScript lists labels outside their figure and pairs that overlap by
// more than a sliver.
const labelsScript = `(() => {
  const bad = [];
  for (const svg of document.querySelectorAll("svg")) {
    const frame = svg.getBoundingClientRect();
    const boxes = [...svg.querySelectorAll("text")].filter(t => t.textContent.trim()).map(t => [t.textContent, t.getBoundingClientRect()]);
    const name = svg.getAttribute("aria-label");
    boxes.forEach(([text, b], i) => {
      if (b.left < frame.left - 2 || b.right > frame.right + 2 || b.top < frame.top - 2 || b.bottom > frame.bottom + 2) bad.push(name + ": " + text + " is cut off");
      for (const [other, o] of boxes.slice(i + 1)) {
        const w = Math.min(b.right, o.right) - Math.max(b.left, o.left), h = Math.min(b.bottom, o.bottom) - Math.max(b.top, o.top);
        if (w > 2 && h > 0.35 * Math.min(b.height, o.height)) bad.push(name + ": " + text + " on " + other);
      }
    });
  }
  return [...new Set(bad)].slice(0, 12);
})()`
