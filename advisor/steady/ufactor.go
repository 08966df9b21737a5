package steady

import "fmt"

// maxBridged is the largest number of bridged layers: the parallel paths
// through n of them are 2^n.
const maxBridged = 10

// ThermalLayer is a layer of a [Conduction]. Without framing R is the whole
// layer. With framing R is what lies between the framing.
type ThermalLayer struct {
	R            float64 // m²·K/W
	FramingR     float64 // m²·K/W, only with framing
	FramingShare float64 // of the area, 0 for none, below 1
}

func (l ThermalLayer) validate() error {
	if err := firstError(
		within("thermal resistance", l.R, 0, MaxResistance),
		within("framing share", l.FramingShare, 0, 1),
		within("thermal resistance of framing", l.FramingR, 0, MaxResistance),
	); err != nil {
		return err
	}
	if l.FramingShare == 0 {
		return nil
	}
	if l.FramingShare == 1 || l.R == 0 || l.FramingR == 0 {
		return fmt.Errorf("a layer with framing needs resistances above 0 and a framing share below 1")
	}
	return nil
}

// average returns the resistance of the layer between isothermal planes.
func (l ThermalLayer) average() float64 {
	if l.FramingShare == 0 {
		return l.R
	}
	return 1 / ((1-l.FramingShare)/l.R + l.FramingShare/l.FramingR)
}

// Conduction is an assembly for its thermal resistance. It does not cover steel
// framing, whose heat spreads sideways in the layers beside it.
type Conduction struct {
	Inside, Outside float64        // film resistances, m²·K/W
	Layers          []ThermalLayer // in either order
}

// Validate returns an error that names the first quantity that is not a number
// or out of range.
func (c Conduction) Validate() error {
	if err := firstError(
		within("inside film resistance", c.Inside, 0, MaxResistance),
		within("outside film resistance", c.Outside, 0, MaxResistance),
	); err != nil {
		return err
	}
	if len(c.Layers) > MaxLayers {
		return fmt.Errorf("number of layers is %d; allowed is 0 to %d", len(c.Layers), MaxLayers)
	}
	bridged, total := 0, c.Inside+c.Outside
	for i, layer := range c.Layers {
		if err := layer.validate(); err != nil {
			return fmt.Errorf("layer %d: %w", i+1, err)
		}
		if layer.FramingShare > 0 {
			bridged++
		}
		total += layer.R
	}
	if bridged > maxBridged {
		return fmt.Errorf("number of layers with framing is %d; allowed is 0 to %d", bridged, maxBridged)
	}
	return positive("thermal resistance of layers and films together", total)
}

// ParallelPath returns the thermal resistance in m²·K/W from air to air with
// heat flowing straight through: the area-weighted mean of the U-factors of all
// paths. It suits wood framing (ASHRAE Handbook—Fundamentals 2021, ch. 27,
// Example 3). Layers with framing are taken to cross at random.
func (c Conduction) ParallelPath() (float64, error) {
	if err := c.Validate(); err != nil {
		return 0, err
	}
	return 1 / pathConductance(c.Layers, c.Inside+c.Outside), nil
}

// pathConductance returns the mean U-factor of all paths through layers that
// meet a resistance r elsewhere.
func pathConductance(layers []ThermalLayer, r float64) float64 {
	for i, layer := range layers {
		if layer.FramingShare > 0 {
			rest := layers[i+1:]
			return (1-layer.FramingShare)*pathConductance(rest, r+layer.R) +
				layer.FramingShare*pathConductance(rest, r+layer.FramingR)
		}
		r += layer.R
	}
	return 1 / r
}

// IsothermalPlanes returns the thermal resistance in m²·K/W from air to air
// with every plane between layers at one temperature (ASHRAE
// Handbook—Fundamentals 2021, ch. 27, Example 3). It is never above
// [Conduction.ParallelPath]; the true value lies between.
func (c Conduction) IsothermalPlanes() (float64, error) {
	if err := c.Validate(); err != nil {
		return 0, err
	}
	r := c.Inside + c.Outside
	for _, layer := range c.Layers {
		r += layer.average()
	}
	return r, nil
}

// Combined is the thermal resistance by the combined method of ISO 6946 with
// its limits, m²·K/W.
type Combined struct {
	R            float64 // mean of the limits
	Upper, Lower float64 // parallel path and isothermal planes
	Error        float64 // largest relative error, (Upper − Lower)/(2·R)
}

// Combined returns the thermal resistance by the combined method of ISO 6946
// (recalled).
func (c Conduction) Combined() (Combined, error) {
	upper, err := c.ParallelPath()
	if err != nil {
		return Combined{}, err
	}
	lower, err := c.IsothermalPlanes()
	if err != nil {
		return Combined{}, err
	}
	r := (upper + lower) / 2
	return Combined{R: r, Upper: upper, Lower: lower, Error: (upper - lower) / (2 * r)}, nil
}
