package page

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"tyro/analysis/study"
	"tyro/datasets/demo"
	"tyro/reports"
)

// hostileCodes are trainees' codes that act where they are taken as they are.
var hostileCodes = []string{
	`<script>document.title="broken into"</script>`, `"><img src=x onerror='document.title="broken into"'>`, "\x1b[31mred\x1b[0m", "low\x01\x7f",
	`=cmd|' /C calc'!A0`, "../../x", "étoile", "\u202egpj.exe", `</svg></style><iframe src="javascript:1">`, strings.Repeat("long ", 60),
}

// hostileReport is the report of the demo study whose first trainees have hostile
// codes, and whose title is hostile.
func hostileReport(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	if err := demo.Write(dir); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "attempts.csv")
	rewrite := func(path string, change func(text string) string) {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(change(string(data))), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	rewrite(path, func(text string) string {
		rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		kept := rows[:1]
		var seen []string
		for _, row := range rows[1:] {
			if !slices.Contains(seen, row[0]) {
				seen = append(seen, row[0])
			}
			if i := slices.Index(seen, row[0]); i < len(hostileCodes) {
				row[0] = hostileCodes[i]
				kept = append(kept, row)
			}
		}
		var b strings.Builder
		if err := csv.NewWriter(&b).WriteAll(kept); err != nil {
			t.Fatal(err)
		}
		return b.String()
	})
	rewrite(filepath.Join(dir, "study.yaml"), func(text string) string {
		return strings.Replace(text, "title: Vein", `title: <img src=x onerror='document.title="broken into"'> Vein`, 1)
	})
	r, err := Run(t.Context(), studyIn(t, dir, study.Options{Replicates: 20, Families: family(t, "wright")}))
	if err != nil {
		t.Fatal(err)
	}
	page := filepath.Join(dir, "index.html")
	f, err := os.Create(page)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := r.WriteHTML(f); err != nil {
		t.Fatal(err)
	}
	return page
}

// In a browser the page of a study of hostile names has no element that a name
// brought, ran nothing, and shows every name in full.
func TestHostileReportInABrowser(t *testing.T) {
	ctx := browser(t)
	if err := chromedp.Do(ctx, chromedp.Navigate("file://"+hostileReport(t))); err != nil {
		t.Fatal(err)
	}
	if n := evaluate[int](t, ctx, `document.querySelectorAll("script, img, iframe, object, embed, [onerror], [onload]").length`); n != 1 { // the page's own script
		t.Errorf("names brought %d elements into the page", n-1)
	}
	if title := evaluate[string](t, ctx, `document.title`); !strings.Contains(title, "<img src=x") {
		t.Errorf("the page's title is %q", title)
	}
	cards := evaluate[[]string](t, ctx, `[...document.querySelectorAll("#who-needs tbody th")].map(h => h.textContent)`)
	labels := evaluate[[]string](t, ctx, `[...document.querySelectorAll("svg")].map(s => s.getAttribute("aria-label"))`)
	for _, code := range hostileCodes {
		shown := strings.TrimSpace(reports.Printable(code))
		if !slices.ContainsFunc(cards, func(c string) bool { return strings.TrimSpace(c) == shown }) {
			t.Errorf("no row is headed %q", shown)
		}
		if !slices.ContainsFunc(labels, func(l string) bool { return strings.Contains(l, shown) }) {
			t.Errorf("no figure is labelled with %q", shown)
		}
	}
}
