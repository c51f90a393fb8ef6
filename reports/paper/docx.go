package paper

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"strings"

	"tyro/reports"
)

// A sheet of a word processor (Office Open XML, ECMA-376, part 1): three parts in a zip
// are enough for paragraphs and tables.
type document struct{ body strings.Builder }

const (
	contentTypes = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n" +
		`<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/word/document.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml"/></Types>`
	relations = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n" +
		`<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="word/document.xml"/></Relationships>`
	bodyHead = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n" +
		`<w:document xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"><w:body>`
	bodyFoot = `<w:sectPr><w:pgSz w:w="%d" w:h="%d"%s/><w:pgMar w:top="1134" w:right="1134" w:bottom="1134" w:left="1134" w:header="567" w:footer="567" w:gutter="0"/></w:sectPr></w:body></w:document>`
)

// Sizes of letters in half points, as the format counts them.
const (
	titleSize = 24
	textSize  = 20
	cellSize  = 16
)

// wideTable is the number of columns from which on a table's page lies on its side.
const wideTable = 8

// paragraph adds a paragraph.
func (d *document) paragraph(text string, halfPoints int, strong bool) {
	fmt.Fprintf(&d.body, `<w:p><w:pPr><w:spacing w:after="120"/></w:pPr>%s</w:p>`, run(text, halfPoints, strong))
}

// run is a stretch of text in one font.
func run(text string, halfPoints int, strong bool) string {
	bold := ""
	if strong {
		bold = "<w:b/>"
	}
	var escaped bytes.Buffer
	xml.EscapeText(&escaped, []byte(reports.Printable(text))) // into memory: never fails
	return fmt.Sprintf(`<w:r><w:rPr><w:rFonts w:ascii="Liberation Sans" w:hAnsi="Liberation Sans" w:cs="Liberation Sans"/>%s<w:sz w:val="%d"/></w:rPr><w:t xml:space="preserve">%s</w:t></w:r>`, bold, halfPoints, escaped.String())
}

// table adds rows below heads that are repeated on every page, with the rules of a
// journal's table: above, below the heads, and below.
func (d *document) table(heads []string, right []bool, rows [][]string) {
	d.body.WriteString(`<w:tbl><w:tblPr><w:tblW w:w="5000" w:type="pct"/><w:tblBorders><w:top w:val="single" w:sz="8" w:color="000000"/><w:bottom w:val="single" w:sz="8" w:color="000000"/></w:tblBorders></w:tblPr><w:tblGrid>`)
	for range heads {
		d.body.WriteString(`<w:gridCol/>`)
	}
	d.body.WriteString(`</w:tblGrid>`)
	d.row(heads, right, true)
	for _, r := range rows {
		d.row(r, right, false)
	}
	d.body.WriteString(`</w:tbl>`)
}

func (d *document) row(cells []string, right []bool, head bool) {
	properties, border := `<w:cantSplit/>`, ""
	if head {
		properties += `<w:tblHeader/>`
		border = `<w:tcPr><w:tcBorders><w:bottom w:val="single" w:sz="4" w:color="000000"/></w:tcBorders></w:tcPr>`
	}
	fmt.Fprintf(&d.body, `<w:tr><w:trPr>%s</w:trPr>`, properties)
	for k, c := range cells {
		side := "left"
		if right != nil && right[k] {
			side = "right"
		}
		fmt.Fprintf(&d.body, `<w:tc>%s<w:p><w:pPr><w:jc w:val="%s"/></w:pPr>%s</w:p></w:tc>`, border, side, run(c, cellSize, head))
	}
	d.body.WriteString(`</w:tr>`)
}

// bytes is the file; sideways turns the pages.
func (d *document) bytes(sideways bool) ([]byte, error) {
	w, h, turned := 11906, 16838, "" // A4, in twentieths of a point
	if sideways {
		w, h, turned = h, w, ` w:orient="landscape"`
	}
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, part := range []struct{ name, text string }{
		{"[Content_Types].xml", contentTypes}, {"_rels/.rels", relations}, {"word/document.xml", bodyHead + d.body.String() + fmt.Sprintf(bodyFoot, w, h, turned)},
	} {
		out, err := z.Create(part.name)
		if err != nil {
			return nil, err
		}
		if _, err := out.Write([]byte(part.text)); err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return b.Bytes(), err
}

// tableFile is a table with its title above and its notes below.
func tableFile(title string, t reports.Table) ([]byte, error) {
	var d document
	d.paragraph(title, textSize, true)
	heads, right, rows := t.Spoken()
	d.table(heads, right, rows)
	for _, n := range t.Notes {
		d.paragraph(reports.Spoken(n), cellSize, false)
	}
	return d.bytes(len(heads) >= wideTable)
}
