package drawing

import "math"

// Box is a rectangle on a sheet, mm; X0 <= X1 and Y0 <= Y1.
type Box struct{ X0, Y0, X1, Y1 float64 }

// Path gives the outline of the box as a closed path without style.
func (b Box) Path() *Path {
	return &Path{Closed: true, Points: []Point{At(b.X0, b.Y0), At(b.X1, b.Y0), At(b.X1, b.Y1), At(b.X0, b.Y1)}}
}

// clip gives the part of the line from a to b within the box.
func (b Box) clip(p, q Point) (Point, Point, bool) {
	from, to := 0.0, 1.0
	dx, dy := q.X-p.X, q.Y-p.Y
	for _, side := range [4][2]float64{{-dx, p.X - b.X0}, {dx, b.X1 - p.X}, {-dy, p.Y - b.Y0}, {dy, b.Y1 - p.Y}} {
		switch d, room := side[0], side[1]; {
		case d == 0 && room < 0:
			return p, q, false
		case d < 0:
			from = math.Max(from, room/d)
		case d > 0:
			to = math.Min(to, room/d)
		}
	}
	if from >= to {
		return p, q, false
	}
	return At(p.X+from*dx, p.Y+from*dy), At(p.X+to*dx, p.Y+to*dy), true
}

// Add puts items over those that are there.
func (p *Picture) Add(items ...Item) { p.Items = append(p.Items, items...) }

// Line draws a line through points.
func (p *Picture) Line(k Ink, width float64, points ...Point) {
	p.Add(Item{Path: &Path{Points: points, Line: k, Width: width}})
}

// Dashed draws a line of dashes through points.
func (p *Picture) Dashed(k Ink, width float64, dash []float64, points ...Point) {
	p.Add(Item{Path: &Path{Points: points, Line: k, Width: width, Dash: dash}})
}

// Area fills a shape.
func (p *Picture) Area(k Ink, points ...Point) {
	p.Add(Item{Path: &Path{Points: points, Closed: true, Fill: k}})
}

// Write writes one line of text.
func (p *Picture) Write(at Point, text string, size float64, align Align, k Ink) {
	p.Add(Item{Words: &Words{At: at, Text: text, Size: size, Align: align, Ink: k}})
}

// Dot draws a filled spot.
func (p *Picture) Dot(k Ink, at Point, radius float64) {
	const corners = 12
	points := make([]Point, corners)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		points[i] = At(at.X+radius*cos, at.Y+radius*sin)
	}
	p.Area(k, points...)
}
