package drawing

import (
	"image"
	"math"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// outline is a set of closed shapes; what lies in any of them is filled, as long
// as all that overlap turn the same way.
type outline struct{ shapes [][]Point }

func (o *outline) polygon(points []Point) {
	if len(points) > 2 {
		o.shapes = append(o.shapes, points)
	}
}

// stroke adds a line of a width with flat ends and round corners.
func (o *outline) stroke(points []Point, width float64) {
	half := width / 2
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		length := math.Hypot(b.X-a.X, b.Y-a.Y)
		if length == 0 {
			continue
		}
		nx, ny := -(b.Y-a.Y)/length*half, (b.X-a.X)/length*half
		o.polygon([]Point{{a.X + nx, a.Y + ny}, {a.X - nx, a.Y - ny}, {b.X - nx, b.Y - ny}, {b.X + nx, b.Y + ny}})
		if i > 1 {
			o.disc(a, half)
		}
	}
}

// disc adds a round spot that turns the way of strokes.
func (o *outline) disc(at Point, radius float64) {
	const corners = 10
	points := make([]Point, corners)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		points[i] = Point{at.X + radius*cos, at.Y + radius*sin}
	}
	o.polygon(points)
}

// fill paints an outline in an ink, with smooth edges.
func (c *canvas) fill(o *outline, k Ink) {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, s := range o.shapes {
		for _, p := range s {
			x0, x1 = math.Min(x0, p.X*c.scale), math.Max(x1, p.X*c.scale)
			y0, y1 = math.Min(y0, p.Y*c.scale), math.Max(y1, p.Y*c.scale)
		}
	}
	box := image.Rect(int(math.Floor(math.Max(x0, 0))), int(math.Floor(math.Max(y0, 0))),
		int(math.Ceil(math.Min(x1, 1e6))), int(math.Ceil(math.Min(y1, 1e6)))).Intersect(c.image.Bounds())
	if len(o.shapes) == 0 || box.Empty() {
		return
	}
	r := vector.NewRasterizer(box.Dx(), box.Dy())
	at := func(p Point) (float32, float32) {
		return float32(p.X*c.scale - float64(box.Min.X)), float32(p.Y*c.scale - float64(box.Min.Y))
	}
	for _, s := range o.shapes {
		r.MoveTo(at(s[0]))
		for _, p := range s[1:] {
			r.LineTo(at(p))
		}
		r.ClosePath()
	}
	r.Draw(c.image, box, image.NewUniform(k.light()), image.Point{})
}

// words draws a text with a seam of paper around its letters.
func (c *canvas) words(w *Words) {
	const seam = 0.25 // of the size, both sides together
	var letters, around outline
	x := map[Align]float64{Middle: -0.5, End: -1}[w.Align] * c.ruler.Width(w.Text, w.Size, w.Bold)
	sin, cos := math.Sincos(-w.Turn * math.Pi / 180)
	for _, r := range w.Text {
		shapes, advance := c.ruler.glyph(r, w.Bold)
		for _, s := range shapes {
			placed := make([]Point, len(s))
			for i, p := range s {
				px, py := x+p.X*w.Size, p.Y*w.Size
				placed[i] = Point{w.At.X + px*cos - py*sin, w.At.Y + px*sin + py*cos}
			}
			letters.polygon(placed)
			around.stroke(append(placed, placed[0]), seam*w.Size)
		}
		x += advance * w.Size
	}
	c.fill(&around, Paper)
	c.fill(&letters, w.Ink)
}

// glyph gives the outline of a letter and its advance, for a size of 1.
func (r *Ruler) glyph(letter rune, bold bool) ([][]Point, float64) {
	f := r.font(bold)
	const unit = 1000
	index, err := f.GlyphIndex(&r.buffer, letter)
	if err != nil {
		return nil, 0
	}
	segments, err := f.LoadGlyph(&r.buffer, index, fixed.I(unit), nil)
	if err != nil {
		return nil, 0
	}
	point := func(p fixed.Point26_6) Point {
		return Point{float64(p.X) / 64 / unit, float64(p.Y) / 64 / unit}
	}
	var shapes [][]Point
	for _, s := range segments {
		last := len(shapes) - 1
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			shapes = append(shapes, []Point{point(s.Args[0])})
		case sfnt.SegmentOpLineTo:
			shapes[last] = append(shapes[last], point(s.Args[0]))
		case sfnt.SegmentOpQuadTo:
			shapes[last] = append(shapes[last], bend(shapes[last][len(shapes[last])-1], point(s.Args[0]), point(s.Args[1]))...)
		}
	}
	return shapes, r.Width(string(letter), 1, bold)
}

// bend draws a quadratic curve as a few straight pieces: the fonts have no
// others.
func bend(a, b, c Point) []Point {
	const pieces = 5
	var out []Point
	for i := 1; i <= pieces; i++ {
		t := float64(i) / pieces
		out = append(out, along(along(a, b, t), along(b, c, t), t))
	}
	return out
}
