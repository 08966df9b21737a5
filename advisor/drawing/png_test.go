package drawing_test

import (
	"bytes"
	"image"
	"image/png"
	"testing"

	"relath/advisor/drawing"
)

// imageOf draws a picture with ten pixels to a millimeter.
func imageOf(t *testing.T, p *drawing.Picture) image.Image {
	t.Helper()
	var b bytes.Buffer
	if err := p.PNG(&b, 254); err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// is tells whether the pixel at a place in millimeters has the color of an ink.
func is(img image.Image, x, y float64, k drawing.Ink) bool {
	r, g, b, _ := img.At(int(x*10), int(y*10)).RGBA()
	return r>>8<<16|g>>8<<8|b>>8 == k.RGB(drawing.OnLight)
}

// Ink is where a path is, and nowhere else.
func TestPNGHasInkWhereThePathsAre(t *testing.T) {
	p := &drawing.Picture{Width: 40, Height: 20}
	p.Area(drawing.Medium, drawing.At(2, 2), drawing.At(10, 2), drawing.At(10, 10), drawing.At(2, 10))
	p.Line(drawing.Full, 1, drawing.At(15, 5), drawing.At(25, 5), drawing.At(25, 15))
	p.Dashed(drawing.Dark, 1, []float64{2, 3}, drawing.At(28, 18), drawing.At(38, 18))
	img := imageOf(t, p)
	if got := img.Bounds().Size(); got != image.Pt(400, 200) {
		t.Fatalf("the image has %v pixels, want 400 by 200", got)
	}
	for _, c := range []struct {
		x, y float64
		k    drawing.Ink
	}{
		{6, 6, drawing.Medium},
		{1.5, 6, drawing.Paper},
		{10.5, 6, drawing.Paper},
		{20, 5, drawing.Full},
		{20, 5.8, drawing.Paper}, // half the width of a line on each side
		{20, 4.2, drawing.Paper},
		{14.5, 5, drawing.Paper},  // flat ends
		{25.3, 4.8, drawing.Full}, // round corners
		{25, 12, drawing.Full},
		{29, 18, drawing.Dark}, // 2 mm drawn, 3 mm left out
		{31, 18, drawing.Paper},
		{34, 18, drawing.Dark},
		{36.5, 18, drawing.Paper},
	} {
		if !is(img, c.x, c.y, c.k) {
			t.Errorf("no %s at %g, %g: %v", c.k, c.x, c.y, img.At(int(c.x*10), int(c.y*10)))
		}
	}
}

// inked bounds the pixels of an ink, mm.
func inked(img image.Image, k drawing.Ink) (box drawing.Box, n int) {
	box = drawing.Box{X0: 1e9, Y0: 1e9}
	for y := range img.Bounds().Dy() {
		for x := range img.Bounds().Dx() {
			if mx, my := float64(x)/10+0.05, float64(y)/10+0.05; is(img, mx, my, k) {
				box = drawing.Box{X0: min(box.X0, mx), Y0: min(box.Y0, my), X1: max(box.X1, mx), Y1: max(box.Y1, my)}
				n++
			}
		}
	}
	return box, n
}

// Words stand where their point and alignment say, by the width of the ruler,
// and turn counterclockwise.
func TestPNGWords(t *testing.T) {
	const size = 5.0
	width := drawing.NewRuler().Width("HHHH", size, false)
	for _, c := range []struct {
		align    drawing.Align
		turn     float64
		from, to drawing.Point
	}{
		{drawing.Start, 0, drawing.At(30, 30-size), drawing.At(30+width, 30)},
		{drawing.End, 0, drawing.At(30-width, 30-size), drawing.At(30, 30)},
		{drawing.Middle, 0, drawing.At(30-width/2, 30-size), drawing.At(30+width/2, 30)},
		{drawing.Start, 90, drawing.At(30-size, 30-width), drawing.At(30, 30)},
	} {
		p := &drawing.Picture{Width: 60, Height: 60}
		p.Add(drawing.Item{Words: &drawing.Words{At: drawing.At(30, 30), Text: "HHHH", Size: size, Align: c.align, Ink: drawing.Full, Turn: c.turn}})
		box, n := inked(imageOf(t, p), drawing.Full)
		const bearing = 0.8 // mm of blank on both sides of a letter, and above a capital less than its size
		if n < 100 || box.X0 < c.from.X || box.Y0 < c.from.Y || box.X1 > c.to.X || box.Y1 > c.to.Y ||
			box.X1-box.X0 < (c.to.X-c.from.X)-2*bearing-1 && c.turn == 0 {
			t.Errorf("%s turned %g: ink in %v, want within %v to %v", c.align, c.turn, box, c.from, c.to)
		}
	}
}

// Letters part themselves from what they stand on by a seam of paper.
func TestPNGSeam(t *testing.T) {
	p := &drawing.Picture{Width: 20, Height: 20}
	p.Area(drawing.Dark, drawing.At(0, 0), drawing.At(20, 0), drawing.At(20, 20), drawing.At(0, 20))
	p.Write(drawing.At(10, 12), "I", 8, drawing.Middle, drawing.Full)
	if _, n := inked(imageOf(t, p), drawing.Paper); n < 100 {
		t.Errorf("%d pixels of paper about the letter", n)
	}
}

func TestPNGIsTheSameTwice(t *testing.T) {
	write := func() []byte {
		var b bytes.Buffer
		if err := sample("twice").PNG(&b, 150); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	if !bytes.Equal(write(), write()) {
		t.Error("two images of one picture differ")
	}
}

func TestPNGRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		w, h, dpi float64
	}{"coarse": {10, 10, 1}, "fine": {10, 10, 5000}, "vast": {1e6, 1e6, 300}, "empty": {0, 0, 100}} {
		p := &drawing.Picture{Width: c.w, Height: c.h}
		if err := p.PNG(&bytes.Buffer{}, c.dpi); err == nil {
			t.Errorf("%s is drawn", name)
		}
	}
}
