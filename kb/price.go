package kb

import (
	"fmt"

	"relath/kb/quantity"
	"relath/kb/strict"
)

// Price is one entry of prices.yaml: what the user pays for a material or a
// coating. The base itself has no prices; a folder laid over it may.
type Price struct {
	Pos      strict.Pos  `yaml:",pos"`
	Of       string      `yaml:"price,required"` // id of a material or coating
	Costs    float64     `yaml:"costs,required"`
	Currency string      `yaml:"currency,required"`
	Per      strict.Text `yaml:"per,required"` // 1 ft2, 100 ft2, 8 ft, 1 gal, 50 lb or piece
	From     string      `yaml:"from"`         // quote, list, receipt
	Date     string      `yaml:"date"`

	PerSI     float64            `yaml:"-"` // of Dimension, 1 for a piece
	Dimension quantity.Dimension `yaml:"-"` // area length volume mass count
}

func (p *Price) key() (string, strict.Pos) { return p.Of, p.Pos }

// Price returns what the user pays for a material or coating, or nil.
func (b *Base) Price(id string) *Price {
	return find(b.Prices, id, func(p *Price) string { return p.Of })
}

// piece is what is sold by the piece.
const piece = "piece"

// resolvePrice finds out what a price is per.
func (l *loader) resolvePrice(p *Price) {
	if p.Per.Value == piece {
		p.PerSI, p.Dimension = 1, quantity.Count
		return
	}
	for _, d := range []quantity.Dimension{quantity.Area, quantity.Length, quantity.Volume, quantity.Mass} {
		if v, err := quantity.Parse(p.Per.Value, d); err == nil && v > 0 {
			p.PerSI, p.Dimension = v, d
			return
		}
	}
	l.report(p.Per.Pos, fmt.Sprintf("%q is no amount that is sold", p.Per.Value), "an area, length, volume or mass, such as 1 ft2, 8 ft, 1 gal, 50 lb, or piece")
}

func (l *loader) checkPrice(p *Price) {
	l.reference(p.Pos, "material", p.Of)
	if p.Costs < 0 {
		l.report(p.Pos, fmt.Sprintf("price of %q: costs are below 0", p.Of), "")
	}
}
