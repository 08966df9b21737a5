package drawing_test

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"relath/advisor/drawing"
)

// sample has every kind of item.
func sample(text string) *drawing.Picture {
	p := &drawing.Picture{Width: 50, Height: 30, Title: text, About: text}
	p.Area(drawing.Wash, drawing.At(1, 1), drawing.At(20, 1), drawing.At(20, 20))
	p.Line(drawing.Full, 0.3, drawing.At(0, 0), drawing.At(50, 30))
	p.Line(drawing.Full, 0.3, drawing.At(0, 30), drawing.At(50, 0))
	p.Dashed(drawing.Soft, 0.5, []float64{2, 1}, drawing.At(0, 15), drawing.At(50, 15))
	p.Dot(drawing.Dark, drawing.At(25, 15), 1)
	p.Write(drawing.At(25, 15), text, 3, drawing.Middle, drawing.Full)
	return p
}

// wellFormed reads XML to its end and gives all text in it.
func wellFormed(t interface{ Fatalf(string, ...any) }, s string) string {
	d := xml.NewDecoder(strings.NewReader(s))
	var text strings.Builder
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return text.String()
		}
		if err != nil {
			t.Fatalf("%v in %s", err, s)
		}
		if c, ok := token.(xml.CharData); ok {
			text.Write(c)
		}
	}
}

// Whatever bytes a name holds, the picture is XML, and what XML can hold of it
// comes back.
func TestSVGIsWellFormed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		p := sample(text)
		wellFormed(t, p.SVG("one"))
		wellFormed(t, p.SVGFile())
	})
	if got := wellFormed(t, sample(`<b a="1">&amp;'`).SVG("one")); !strings.Contains(got, `<b a="1">&amp;'`) {
		t.Errorf("the text does not come back: %s", got)
	}
}

// Lines of one style are one element; every ink has its class.
func TestSVGJoinsLines(t *testing.T) {
	svg := sample("x").SVG("one")
	if n := strings.Count(svg, "<path"); n != 4 {
		t.Errorf("%d paths, want 4: shape, two lines in one, dashes, dot", n)
	}
	for _, want := range []string{`class="f-wash"`, `class="l-ink"`, `stroke-dasharray="2 1"`, `role="img"`, `aria-labelledby="one-t one-d"`, `text-anchor="middle"`} {
		if !strings.Contains(svg, want) {
			t.Errorf("no %s", want)
		}
	}
}

func TestInksHaveRulesAndColors(t *testing.T) {
	for _, k := range drawing.Inks() {
		for _, rule := range []string{".l-" + string(k) + " {", ".f-" + string(k) + " {"} {
			if !strings.Contains(drawing.Rules(), rule) {
				t.Errorf("no rule %s", rule)
			}
		}
		if k != drawing.Paper && k.RGB(drawing.OnLight) == k.RGB(drawing.OnDark) {
			t.Errorf("ink %s is the same in light and dark", k)
		}
	}
}

func TestPointsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawing.At(rapid.Float64Range(-1e4, 1e4).Draw(t, "x"), rapid.Float64Range(-1e4, 1e4).Draw(t, "y"))
		text, err := p.MarshalText()
		if err != nil {
			t.Fatal(err)
		}
		var back drawing.Point
		if err := back.UnmarshalText(text); err != nil || back != p {
			t.Fatalf("%v becomes %v: %v", p, back, err)
		}
	})
	for _, bad := range []string{"", "1", "1;2", "x,1", "1,y"} {
		if err := new(drawing.Point).UnmarshalText([]byte(bad)); err == nil {
			t.Errorf("%q is taken", bad)
		}
	}
}

// A title above a picture moves all of it down by the same, and changes nothing
// of the picture that it was made of.
func TestTitled(t *testing.T) {
	p := sample("A title")
	before := p.SVG("a")
	titled := p.Titled()
	if p.SVG("a") != before {
		t.Error("the picture itself has changed")
	}
	down := titled.Height - p.Height
	const rounded = 0.006 // places are kept to hundredths of a millimeter
	if down <= 0 || len(titled.Items) != len(p.Items)+1 || titled.Items[0].Words.Text != "A title" {
		t.Fatalf("%g mm and %d items more", down, len(titled.Items)-len(p.Items))
	}
	for i, it := range p.Items {
		if it.Path != nil && math.Abs(titled.Items[i+1].Path.Points[0].Y-it.Path.Points[0].Y-down) > rounded {
			t.Errorf("item %d has not moved by %g", i, down)
		}
		if it.Words != nil && math.Abs(titled.Items[i+1].Words.At.Y-it.Words.At.Y-down) > rounded {
			t.Errorf("item %d has not moved by %g", i, down)
		}
	}
}
