package page

import (
	"context"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	cdp "github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"tyro/analysis/study"
)

// demoReport renders the demo study's report into a folder.
func demoReport(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	r, err := Run(t.Context(), demoStudy(t, study.Options{Replicates: 40}))
	if err != nil {
		t.Fatal(err)
	}
	files, err := r.Files()
	if err != nil {
		t.Fatal(err)
	}
	for name, data := range files {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return filepath.Join(dir, "index.html")
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
	ctx, cancel = context.WithTimeout(ctx, 4*time.Minute)
	t.Cleanup(cancel)
	return ctx
}

// The page asks nobody for anything, reports no error, does not run out of a
// wide or a narrow window, and no label in a figure is cut off or lies on
// another.
func TestReportInABrowser(t *testing.T) {
	ctx := browser(t)
	page := "file://" + demoReport(t)
	var mu sync.Mutex
	var asked, errors []string
	err := chromedp.Listen(ctx, func(ev any) {
		mu.Lock()
		defer mu.Unlock()
		switch e := ev.(type) {
		case *network.EventRequestWillBeSent:
			if u, err := url.Parse(e.Request.URL); err != nil || e.Request.URL != page && u.Scheme != "data" {
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
	for _, width := range []int64{1100, 390} {
		if err := chromedp.Do(ctx, chromedp.EmulateViewport(width, 900), chromedp.Navigate(page)); err != nil {
			t.Fatal(err)
		}
		figures := evaluate[int](t, ctx, `document.querySelectorAll("svg").length`)
		overflow := evaluate[int](t, ctx, `document.documentElement.scrollWidth - window.innerWidth`)
		bad := evaluate[[]string](t, ctx, labelsScript)
		if figures < 36 {
			t.Errorf("width %d: %d figures, want one a trainee at least", width, figures)
		}
		if overflow > 0 {
			t.Errorf("width %d: the page is %d pixels wider than its window", width, overflow)
		}
		if len(bad) > 0 {
			t.Errorf("width %d: labels cut off or on one another: %s", width, strings.Join(bad, "; "))
		}
	}
	if len(asked) > 0 || len(errors) > 0 {
		t.Errorf("the page asks for %v and reports %v", asked, errors)
	}
}

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
