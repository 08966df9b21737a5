package report

import (
	"archive/zip"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// workbook is a spreadsheet file: Office Open XML, ECMA-376.
type workbook struct {
	title  string
	sheets []sheet
}

// sheet is one sheet of a workbook.
type sheet struct {
	name   string
	widths []float64 // of the columns, in digits
	head   int       // row of the heads, from 1: it stays in view and is printed on every page; 0 for none
	last   int       // row of the last line under the heads that a filter holds, 0 for no filter
	rows   [][]cell
}

// cell is a text, a number, or a formula with the value that it has now.
type cell struct {
	look    look
	text    string
	number  float64
	numeric bool
	formula string // without =
}

// look is how a cell is shown.
type look int

// The looks, in the order of the styles of the file.
const (
	lookPlain look = iota
	lookTitle
	lookSection
	lookHead
	lookMoney
	lookOpen  // money that is to be filled in
	lookTotal // money
	lookBold
	lookSoft
	lookNumber // without decimals; the next four have one to four
)

// lookOf shows a number with four digits that count; a whole number whole.
func lookOf(v float64) look {
	decimals := 4
	for limit := 1.0; decimals > 0 && math.Abs(v) >= limit; limit *= 10 {
		decimals--
	}
	if v == math.Trunc(v) {
		decimals = 0
	}
	return lookNumber + look(decimals)
}

// sheetStyles describes the looks. Text wraps and stands at the top; what is to be
// filled in is shaded and framed.
const sheetStyles = `<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">` +
	`<numFmts count="4"><numFmt numFmtId="164" formatCode="#,##0.0"/><numFmt numFmtId="165" formatCode="#,##0.00;-#,##0.00;&quot;–&quot;"/>` +
	`<numFmt numFmtId="166" formatCode="0.000"/><numFmt numFmtId="167" formatCode="0.0000"/></numFmts>` +
	`<fonts count="4"><font><sz val="10"/><name val="Calibri"/></font><font><b/><sz val="15"/><name val="Calibri"/></font>` +
	`<font><b/><sz val="10"/><name val="Calibri"/></font><font><sz val="9"/><color rgb="FF555555"/><name val="Calibri"/></font></fonts>` +
	`<fills count="4"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill>` +
	`<fill><patternFill patternType="solid"><fgColor rgb="FFEDEDED"/></patternFill></fill>` +
	`<fill><patternFill patternType="solid"><fgColor rgb="FFFFF2CC"/></patternFill></fill></fills>` +
	`<borders count="4"><border><left/><right/><top/><bottom/><diagonal/></border>` +
	`<border><left/><right/><top/><bottom style="medium"/><diagonal/></border>` +
	`<border><left style="thin"/><right style="thin"/><top style="thin"/><bottom style="thin"/><diagonal/></border>` +
	`<border><left/><right/><top style="thin"/><bottom/><diagonal/></border></borders>` +
	`<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>` +
	`<cellXfs count="14">` +
	`<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0" applyAlignment="1"><alignment vertical="top" wrapText="1"/></xf>` +
	`<xf numFmtId="0" fontId="1" fillId="0" borderId="0" xfId="0"/>` +
	`<xf numFmtId="0" fontId="2" fillId="0" borderId="1" xfId="0"/>` +
	`<xf numFmtId="0" fontId="2" fillId="2" borderId="1" xfId="0" applyAlignment="1"><alignment vertical="top" wrapText="1"/></xf>` +
	`<xf numFmtId="165" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1" applyAlignment="1"><alignment horizontal="right" vertical="top" indent="1"/></xf>` +
	`<xf numFmtId="165" fontId="0" fillId="3" borderId="2" xfId="0" applyNumberFormat="1" applyAlignment="1"><alignment horizontal="right" vertical="top" indent="1"/></xf>` +
	`<xf numFmtId="4" fontId="2" fillId="0" borderId="3" xfId="0" applyNumberFormat="1" applyAlignment="1"><alignment horizontal="right" indent="1"/></xf>` +
	`<xf numFmtId="0" fontId="2" fillId="0" borderId="3" xfId="0"/>` +
	`<xf numFmtId="0" fontId="3" fillId="0" borderId="0" xfId="0"/>` +
	`<xf numFmtId="3" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1" applyAlignment="1"><alignment horizontal="right" vertical="top" indent="1"/></xf>` +
	`<xf numFmtId="164" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1" applyAlignment="1"><alignment horizontal="right" vertical="top" indent="1"/></xf>` +
	`<xf numFmtId="4" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1" applyAlignment="1"><alignment horizontal="right" vertical="top" indent="1"/></xf>` +
	`<xf numFmtId="166" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1" applyAlignment="1"><alignment horizontal="right" vertical="top" indent="1"/></xf>` +
	`<xf numFmtId="167" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1" applyAlignment="1"><alignment horizontal="right" vertical="top" indent="1"/></xf>` +
	`</cellXfs></styleSheet>`

// The names that the parts of a file go by.
const (
	mainNS    = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
	relNS     = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	packageNS = "http://schemas.openxmlformats.org/package/2006/"
	partType  = "application/vnd.openxmlformats-"
)

// part is a file of the archive that a workbook is.
type part struct{ name, text string }

// write writes the file. Nothing in it depends on the clock.
func (b *workbook) write(w io.Writer) error {
	z := zip.NewWriter(w)
	for _, p := range b.parts() {
		f, err := z.CreateHeader(&zip.FileHeader{Name: p.name, Method: zip.Deflate})
		if err != nil {
			return err
		}
		if _, err := io.WriteString(f, xml.Header+p.text); err != nil {
			return err
		}
	}
	return z.Close()
}

func (b *workbook) parts() []part {
	list := []part{
		b.contentTypes(),
		{"_rels/.rels", `<Relationships xmlns="` + packageNS + `relationships">` +
			`<Relationship Id="rId1" Type="` + relNS + `/officeDocument" Target="xl/workbook.xml"/>` +
			`<Relationship Id="rId2" Type="` + packageNS + `relationships/metadata/core-properties" Target="docProps/core.xml"/></Relationships>`},
		{"docProps/core.xml", `<cp:coreProperties xmlns:cp="` + packageNS + `metadata/core-properties" xmlns:dc="http://purl.org/dc/elements/1.1/"` +
			` xmlns:dcterms="http://purl.org/dc/terms/" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">` +
			`<dc:title>` + escape(b.title) + `</dc:title><dc:creator>relath</dc:creator><dc:language>en-US</dc:language>` +
			`<dcterms:created xsi:type="dcterms:W3CDTF">2000-01-01T00:00:00Z</dcterms:created></cp:coreProperties>`},
		b.contents(), b.relations(),
		{"xl/styles.xml", sheetStyles},
	}
	for i := range b.sheets {
		list = append(list, part{fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1), `<worksheet xmlns="` + mainNS + `">` + b.sheets[i].xml(i == 0) + `</worksheet>`})
	}
	return list
}

func (b *workbook) contentTypes() part {
	var text strings.Builder
	text.WriteString(`<Types xmlns="` + packageNS + `content-types"><Default Extension="rels" ContentType="` + partType + `package.relationships+xml"/>` +
		`<Default Extension="xml" ContentType="application/xml"/>`)
	of := func(name, kind string) {
		fmt.Fprintf(&text, `<Override PartName="/%s" ContentType="%s%s+xml"/>`, name, partType, kind)
	}
	of("xl/workbook.xml", "officedocument.spreadsheetml.sheet.main")
	of("xl/styles.xml", "officedocument.spreadsheetml.styles")
	of("docProps/core.xml", "package.core-properties")
	for i := range b.sheets {
		of(fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1), "officedocument.spreadsheetml.worksheet")
	}
	return part{"[Content_Types].xml", text.String() + `</Types>`}
}

// contents lists the sheets, with the rows that are printed on every page and
// those that are filtered. All is computed anew when the file is opened.
func (b *workbook) contents() part {
	var list, names strings.Builder
	for i := range b.sheets {
		s := &b.sheets[i]
		fmt.Fprintf(&list, `<sheet name="%s" sheetId="%d" r:id="rId%d"/>`, escape(s.name), i+1, i+1)
		if s.last > 0 {
			fmt.Fprintf(&names, `<definedName name="_xlnm._FilterDatabase" localSheetId="%d" hidden="1">'%s'!$A$%d:$%s$%d</definedName>`,
				i, s.name, s.head, column(len(s.widths)-1), s.last)
		}
		if s.head > 0 {
			fmt.Fprintf(&names, `<definedName name="_xlnm.Print_Titles" localSheetId="%d">'%s'!$%d:$%d</definedName>`, i, s.name, s.head, s.head)
		}
	}
	return part{"xl/workbook.xml", `<workbook xmlns="` + mainNS + `" xmlns:r="` + relNS + `"><sheets>` + list.String() + `</sheets>` +
		`<definedNames>` + names.String() + `</definedNames><calcPr fullCalcOnLoad="1"/></workbook>`}
}

func (b *workbook) relations() part {
	var text strings.Builder
	text.WriteString(`<Relationships xmlns="` + packageNS + `relationships">`)
	of := func(n int, kind, target string) {
		fmt.Fprintf(&text, `<Relationship Id="rId%d" Type="%s/%s" Target="%s"/>`, n, relNS, kind, target)
	}
	for i := range b.sheets {
		of(i+1, "worksheet", fmt.Sprintf("worksheets/sheet%d.xml", i+1))
	}
	of(len(b.sheets)+1, "styles", "styles.xml")
	return part{"xl/_rels/workbook.xml.rels", text.String() + `</Relationships>`}
}

// xml gives the parts of a sheet in the order that the schema wants.
func (s *sheet) xml(first bool) string {
	var b strings.Builder
	b.WriteString(`<sheetPr><pageSetUpPr fitToPage="1"/></sheetPr><sheetViews><sheetView workbookViewId="0"`)
	if first {
		b.WriteString(` tabSelected="1"`)
	}
	b.WriteString(`>`)
	if s.head > 0 {
		fmt.Fprintf(&b, `<pane ySplit="%d" topLeftCell="A%d" activePane="bottomLeft" state="frozen"/>`, s.head, s.head+1)
	}
	b.WriteString(`</sheetView></sheetViews><sheetFormatPr defaultRowHeight="14"/><cols>`)
	for i, w := range s.widths {
		fmt.Fprintf(&b, `<col min="%d" max="%d" width="%g" customWidth="1"/>`, i+1, i+1, w)
	}
	b.WriteString(`</cols><sheetData>`)
	for i, row := range s.rows {
		fmt.Fprintf(&b, `<row r="%d" ht="%g" customHeight="1">`, i+1, s.height(row))
		for c := range row {
			row[c].xml(&b, cellName(c, i+1))
		}
		b.WriteString(`</row>`)
	}
	b.WriteString(`</sheetData>`)
	if s.last > 0 {
		fmt.Fprintf(&b, `<autoFilter ref="A%d:%s"/>`, s.head, cellName(len(s.widths)-1, s.last))
	}
	b.WriteString(`<pageMargins left="0.6" right="0.6" top="0.7" bottom="0.8" header="0.3" footer="0.4"/>` +
		`<pageSetup orientation="landscape" fitToWidth="1" fitToHeight="0"/>` +
		`<headerFooter><oddFooter>&amp;L&amp;A&amp;Rpage &amp;P of &amp;N</oddFooter></headerFooter>`)
	return b.String()
}

// height is that of a row, in points: not every program fits rows to text that
// wraps.
func (s *sheet) height(row []cell) float64 {
	const line, title = 13.5, 20.0
	lines := 1
	for c := range row {
		switch row[c].look {
		case lookTitle:
			return title
		case lookPlain, lookHead:
			if c < len(s.widths) {
				lines = max(lines, len(wrap(row[c].text, max(4, int(s.widths[c])-1))))
			}
		}
	}
	return min(400, line*float64(lines)) + 1
}

// xml writes a cell. A text is a text whatever it begins with: only the formula
// of a cell is one.
func (c cell) xml(b *strings.Builder, at string) {
	number := strconv.FormatFloat(c.number, 'g', -1, 64)
	switch {
	case c.formula != "" && c.numeric:
		fmt.Fprintf(b, `<c r="%s" s="%d"><f>%s</f><v>%s</v></c>`, at, c.look, escape(c.formula), number)
	case c.formula != "":
		fmt.Fprintf(b, `<c r="%s" s="%d" t="str"><f>%s</f><v>%s</v></c>`, at, c.look, escape(c.formula), escape(c.text))
	case c.numeric:
		fmt.Fprintf(b, `<c r="%s" s="%d"><v>%s</v></c>`, at, c.look, number)
	case c.text != "":
		fmt.Fprintf(b, `<c r="%s" s="%d" t="inlineStr"><is><t xml:space="preserve">%s</t></is></c>`, at, c.look, escape(c.text))
	case c.look != lookPlain:
		fmt.Fprintf(b, `<c r="%s" s="%d"/>`, at, c.look)
	}
}

// escape writes a text for XML; what XML cannot hold is named by its number.
func escape(text string) string {
	var b strings.Builder
	for _, r := range text {
		if r < ' ' && r != '\t' && r != '\n' || r == utf8.RuneError || r == '\uFFFE' || r == '\uFFFF' {
			fmt.Fprintf(&b, "[U+%04X]", r)
			continue
		}
		b.WriteRune(r)
	}
	var out strings.Builder
	_ = xml.EscapeText(&out, []byte(b.String())) // a builder takes everything
	return out.String()
}

// column gives the letters of a column, from 0.
func column(c int) string {
	name := ""
	for c++; c > 0; c = (c - 1) / 26 {
		name = string(rune('A'+(c-1)%26)) + name
	}
	return name
}

func cellName(c, row int) string { return column(c) + strconv.Itoa(row) }

func textCell(s string) cell { return cell{text: s} }

func looked(s string, l look) cell { return cell{text: s, look: l} }

func numberCell(v float64) cell { return cell{number: v, numeric: true, look: lookOf(v)} }

func moneyCell(v float64) cell { return cell{number: v, numeric: true, look: lookMoney} }

func formulaCell(f string, v float64, l look) cell {
	return cell{formula: f, number: v, numeric: true, look: l}
}
