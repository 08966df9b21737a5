package drawing

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"
)

// The resolutions that PNG takes, dots per inch: a thumbnail to what a printing
// press wants.
const (
	LeastDPI = 30
	MostDPI  = 600
)

// PNG writes the picture as an image on paper-colored ground, in the colors of
// a light page. The same picture gives the same bytes.
func (p *Picture) PNG(w io.Writer, dpi float64) error {
	if !(dpi >= LeastDPI && dpi <= MostDPI) {
		return fmt.Errorf("resolution %g dpi is not between %d and %d", dpi, LeastDPI, MostDPI)
	}
	perMM := dpi / 25.4
	width, height := int(math.Ceil(p.Width*perMM)), int(math.Ceil(p.Height*perMM))
	const mostPixels = 100e6
	if width < 1 || height < 1 || float64(width)*float64(height) > mostPixels {
		return fmt.Errorf("a picture of %g by %g mm has no place in an image of %g dpi", p.Width, p.Height, dpi)
	}
	c := &canvas{image: image.NewRGBA(image.Rect(0, 0, width, height)), scale: perMM, ruler: NewRuler()}
	draw.Draw(c.image, c.image.Bounds(), image.NewUniform(Paper.light()), image.Point{}, draw.Src)
	for _, it := range p.Items {
		if it.Words != nil {
			c.words(it.Words)
			continue
		}
		c.path(it.Path)
	}
	return png.Encode(w, c.image)
}

// light is the color of an ink on a light page.
func (k Ink) light() color.RGBA {
	v := k.RGB(OnLight)
	return color.RGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 0xff}
}

// canvas is an image while it is drawn.
type canvas struct {
	image *image.RGBA
	scale float64 // pixels in a millimeter
	ruler *Ruler
}

func (c *canvas) path(p *Path) {
	if p.Closed && p.Fill != "" {
		var o outline
		o.polygon(p.Points)
		c.fill(&o, p.Fill)
	}
	if p.Line == "" {
		return
	}
	points := p.Points
	if p.Closed && len(points) > 0 {
		points = append(append([]Point{}, points...), points[0])
	}
	var o outline
	for _, run := range dashed(points, p.Dash) {
		o.stroke(run, p.Width)
	}
	c.fill(&o, p.Line)
}

// dashed cuts a line into its dashes.
func dashed(points []Point, dash []float64) [][]Point {
	total := 0.0
	for _, d := range dash {
		total += d
	}
	if total <= 0 {
		return [][]Point{points}
	}
	var runs [][]Point
	at, left := 0, dash[0]
	var run []Point
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		length := math.Hypot(b.X-a.X, b.Y-a.Y)
		for done := 0.0; done < length; {
			step := math.Min(left, length-done)
			drawn := at%2 == 0
			if drawn && len(run) == 0 {
				run = append(run, along(a, b, done/length))
			}
			done += step
			left -= step
			if drawn {
				run = append(run, along(a, b, done/length))
			}
			if left <= 1e-9 {
				if drawn {
					runs, run = append(runs, run), nil
				}
				at++
				left = dash[at%len(dash)]
			}
		}
	}
	if len(run) > 1 {
		runs = append(runs, run)
	}
	return runs
}

func along(a, b Point, share float64) Point {
	return Point{a.X + share*(b.X-a.X), a.Y + share*(b.Y-a.Y)}
}
