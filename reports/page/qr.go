package page

import (
	"fmt"
	"html/template"
	"strings"

	qr "github.com/piglig/go-qr"
)

// qrQuiet is the empty edge that readers need around a code, in modules (ISO/IEC 18004).
const qrQuiet = 4

// qrSVG draws a text as a QR code, dark on white by day and by night, since many readers
// take it no other way.
func qrSVG(text string) (template.HTML, error) {
	code, err := qr.EncodeText(text, qr.Low)
	if err != nil {
		return "", err
	}
	n := code.Size()
	var d strings.Builder
	for y := range n {
		for x := 0; x < n; x++ {
			run := 0
			for x+run < n && code.Module(x+run, y) {
				run++
			}
			if run > 0 {
				fmt.Fprintf(&d, "M%d %dh%dv1h-%dz", x+qrQuiet, y+qrQuiet, run, run)
				x += run
			}
		}
	}
	size := n + 2*qrQuiet
	return template.HTML(fmt.Sprintf(`<svg class="qr" viewBox="0 0 %d %d" role="img" aria-label="QR code" shape-rendering="crispEdges"><path fill="#fff" d="M0 0h%dv%dh-%dz"/><path fill="#000" d="%s"/></svg>`, size, size, size, size, size, d.String())), nil
}
