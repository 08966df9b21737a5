package report

import (
	"bytes"
	"math"
	"testing"

	"github.com/ledongthuc/pdf"

	"relath/advisor/drawing"
)

// stroke is what an operator draws, with its numbers.
type stroke struct {
	op   string
	args []float64
}

// strokes reads the operators of the first page.
func strokes(t *testing.T, data []byte) []stroke {
	t.Helper()
	r, err := pdf.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var list []stroke
	pdf.Interpret(r.Page(1).V.Key("Contents"), func(stk *pdf.Stack, op string) {
		args := make([]float64, stk.Len())
		for i := len(args) - 1; i >= 0; i-- {
			v := stk.Pop()
			if v.Kind() == pdf.Array && v.Len() > 0 {
				v = v.Index(0)
			}
			args[i] = v.Float64()
		}
		list = append(list, stroke{op, args})
	})
	return list
}

// A picture of our own at twice its size, 10 mm from the left and 20 mm from the
// top of a letter sheet of 215.9 by 279.4 mm: a point (1, 2) comes to lie
// 12 mm from the left and 24 mm from the top, 34.02 and 723.97 points from the
// lower left corner.
func TestDrawPicture(t *testing.T) {
	l, err := newLetters()
	if err != nil {
		t.Fatal(err)
	}
	f := newPDF(l, &Document{}, Letter)
	f.turn()
	f.drawPicture(&drawing.Picture{Width: 30, Height: 20, Items: []drawing.Item{
		{Path: &drawing.Path{Points: []drawing.Point{{X: 1, Y: 2}, {X: 11, Y: 2}}, Line: drawing.Full, Width: 0.5, Dash: []float64{1, 2}}},
		{Path: &drawing.Path{Points: []drawing.Point{{X: 1, Y: 2}, {X: 5, Y: 2}, {X: 5, Y: 6}}, Closed: true, Fill: drawing.Medium}},
		{Words: &drawing.Words{At: drawing.Point{X: 1, Y: 2}, Text: "end", Size: 3, Align: drawing.End}},
		{Words: &drawing.Words{At: drawing.Point{X: 1, Y: 2}, Text: "up", Size: 3, Turn: 90}},
	}}, 10, 20, 2)
	var out bytes.Buffer
	if err := f.pdf.Output(&out); err != nil {
		t.Fatal(err)
	}
	const pt = 72 / 25.4
	x, y := 12*pt, (279.4-24)*pt
	size := 6 * pt // the letters, twice 3 mm
	wide := l.width(style{cut: regular, size: size}, "end") * pt
	found := make(map[string]bool)
	near := func(got []float64, want ...float64) bool {
		for i := range want {
			if len(got) != len(want) || math.Abs(got[i]-want[i]) > 0.02 {
				return false
			}
		}
		return true
	}
	for _, s := range strokes(t, out.Bytes()) {
		found["begins"] = found["begins"] || s.op == "m" && near(s.args, x, y)
		found["line"] = found["line"] || s.op == "l" && near(s.args, x+20*pt, y)
		found["width"] = found["width"] || s.op == "w" && near(s.args, 1*pt)
		found["dash"] = found["dash"] || s.op == "d" && near(s.args, 2*pt, 0)
		found["fill"] = found["fill"] || s.op == "f"
		found["gray"] = found["gray"] || s.op == "g" && near(s.args, 135.0/255)
		found["size"] = found["size"] || s.op == "Tf" && near(s.args[1:], size)
		found["end"] = found["end"] || s.op == "Td" && near(s.args, x-wide, y)
		found["turned"] = found["turned"] || s.op == "cm" && near(s.args, 0, 1, -1, 0, x+y, y-x)
	}
	for _, want := range []string{"begins", "line", "width", "dash", "fill", "gray", "size", "end", "turned"} {
		if !found[want] {
			t.Errorf("%s is not drawn", want)
		}
	}
}

// A drawing to scale, 180 mm wide, keeps its scale on both papers; what is wider
// or taller than the page is made smaller.
func TestPicturesKeepTheirScale(t *testing.T) {
	l, err := newLetters()
	if err != nil {
		t.Fatal(err)
	}
	for _, paper := range []Paper{Letter, A4} {
		f := newPDF(l, &Document{}, paper)
		if scale, _ := f.fitted(&Block{Figure: &Figure{Picture: &drawing.Picture{Width: 180, Height: 150}}}, nil); scale != 1 {
			t.Errorf("%s: 180 mm are drawn at %g", paper, scale)
		}
		for _, p := range []drawing.Picture{{Width: 400, Height: 100}, {Width: 100, Height: 900}} {
			scale, height := f.fitted(&Block{Figure: &Figure{Picture: &p}}, nil)
			if p.Width*scale > f.wide+2*overhang+1e-9 || height > f.full()+1e-9 {
				t.Errorf("%s: %g by %g does not fit at %g", paper, p.Width, p.Height, scale)
			}
		}
	}
}
