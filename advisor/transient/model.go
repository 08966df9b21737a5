package transient

import (
	"errors"
	"fmt"

	"relath/advisor/moistair"
	"relath/advisor/sorption"
)

// Model is a compiled [Input]. It is not changed by runs.
type Model struct {
	input      Input
	tolerance  float64
	saturation *saturation
	latent     float64 // heat of evaporation, J/kg
	kelvin     *kelvin
	slabs      []slab
	gaps       []gap
	links      []link
	ends       [2]link // between the air of a side and its outermost node; left unused
	exchanges  []exchange
	sources    []source
	probes     []int
	outer      []int // node at the outer face of each layer
	inner      []int
	nodes      int
	slots      int
	capacity   []float64 // dry heat capacity of the nodes, J/(m²·K)
	excess     []float64 // kg/m² per unit of the coordinate above saturation; 0 for air
	soaked     []float64 // content at saturation, kg/m²
	rainLayer  [2]int    // layer that takes the rain of a side, -1 for none
}

// exchange is air that comes from a side, meets a node and leaves with its state.
type exchange struct {
	node   int
	from   Side
	flow   Series
	factor float64 // kg/(s·m²) per unit of flow
}

// source is liquid that is spread over nodes.
type source struct {
	layer int
	first int
	share []float64
	water Series
}

// Compile checks the input and places the nodes. The error names what is
// impossible and what is allowed.
func Compile(in Input) (*Model, error) {
	if err := in.validate(); err != nil {
		return nil, err
	}
	pressure := in.Saturation
	if pressure == nil {
		pressure = moistair.SaturationPressure
	}
	table, err := newSaturation(pressure)
	if err != nil {
		return nil, err
	}
	m := &Model{input: in, saturation: table, kelvin: newKelvin(), tolerance: in.Tolerance, latent: LatentHeat}
	if m.tolerance == 0 {
		m.tolerance = DefaultTolerance
	}
	if err := m.placeLayers(); err != nil {
		return nil, err
	}
	m.measureNodes()
	m.placeExchanges()
	for i, s := range in.Sources {
		compiled, err := m.placeSource(s)
		if err != nil {
			return nil, fmt.Errorf("source %d: %w", i+1, err)
		}
		m.sources = append(m.sources, compiled)
	}
	for _, p := range in.Probes {
		m.probes = append(m.probes, m.node(p))
	}
	return m, m.placeRain()
}

// placer walks the layers from the outside and keeps what lies between the last
// node and the next one.
type placer struct {
	*Model
	between link
	apart   bool // whether between holds anything
}

// placeLayers turns layers into slabs, gaps and links.
func (m *Model) placeLayers() error {
	m.outer = make([]int, len(m.input.Layers))
	m.inner = make([]int, len(m.input.Layers))
	p := placer{Model: m}
	for i, layer := range m.input.Layers {
		switch {
		case layer.Sheet != nil:
			if err := p.placeSheet(i, layer.Sheet); err != nil {
				return fmt.Errorf("layer %d %s: permeance: %w", i+1, layer.Name, err)
			}
		case layer.Cavity != nil:
			p.placeGap(i, layer)
		default:
			p.placeSlab(i, layer)
		}
	}
	m.ends[Inside] = p.between
	for i := range m.inner {
		m.inner[i] = min(m.inner[i], m.nodes-1)
	}
	return nil
}

// join ends what lies between the last node and the next one.
func (p *placer) join() {
	switch {
	case p.nodes == 0:
		p.ends[Outside] = p.between
	case p.apart:
		p.between.left = p.nodes - 1
		p.between.resistance = max(p.between.resistance, contactResistance)
		p.links = append(p.links, p.between)
	}
	p.between, p.apart = link{}, false
}

func (p *placer) placeSheet(i int, s *Sheet) error {
	table, err := newSheet(s.Permeance)
	if err != nil {
		return err
	}
	p.between.sheet, p.apart = p.between.sheet.series(table), true
	p.outer[i], p.inner[i] = max(p.nodes-1, 0), p.nodes
	return nil
}

func (p *placer) placeGap(i int, layer Layer) {
	half := link{resistance: layer.Cavity.Resistance / 2, vaporResistance: layer.Cavity.VaporResistance / 2}
	p.between.resistance += half.resistance
	p.between.vaporResistance += half.vaporResistance
	p.apart = true
	p.join()
	p.gaps = append(p.gaps, gap{
		layer: i, node: p.nodes,
		heatCapacity: AirDensity * AirHeatCapacity * layer.Thickness,
		storage: layer.Thickness / (moistair.GasConstantWaterVapor *
			(sorption.ReferenceTemperature + moistair.ZeroCelsius)),
	})
	p.outer[i], p.inner[i] = p.nodes, p.nodes
	p.nodes++
	p.between, p.apart = half, true
}

func (p *placer) placeSlab(i int, layer Layer) {
	first := p.nodes
	if p.nodes > 0 && !p.apart {
		first-- // in contact: the node of the layer before is shared
	}
	p.join()
	s := newSlab(i, &layer, first, p.slots, p.cells(layer))
	p.slabs = append(p.slabs, s)
	p.slots += len(s.volume)
	p.outer[i], p.inner[i] = s.first, s.last()
	p.nodes = s.last() + 1
}

func (m *Model) cells(layer Layer) int {
	n := layer.Cells
	if n == 0 {
		n = cellsByThickness(layer.Thickness)
	}
	return (n + n%2) * max(1, m.input.Refine)
}

// measureNodes sums what the layers bring to each node.
func (m *Model) measureNodes() {
	m.capacity = make([]float64, m.nodes)
	m.excess = make([]float64, m.nodes)
	m.soaked = make([]float64, m.nodes)
	for k := range m.slabs {
		s := &m.slabs[k]
		f := &m.table(s).Functions
		for i, v := range s.volume {
			m.capacity[s.first+i] += v * f.Density * f.SpecificHeat
			// Any slope will do: above saturation the coordinate only carries
			// the water that is drained at the end of the step.
			m.excess[s.first+i] += v * 20
			m.soaked[s.first+i] += v * f.FreeSaturation
		}
	}
	for _, g := range m.gaps {
		m.capacity[g.node] = g.heatCapacity
	}
}

func (m *Model) table(s *slab) *sorption.Table { return m.input.Layers[s.layer].Material }

// node returns the node of a position.
func (m *Model) node(p Position) int {
	switch p.Face {
	case OuterFace:
		return m.outer[p.Layer]
	case InnerFace:
		return m.inner[p.Layer]
	}
	return (m.outer[p.Layer] + m.inner[p.Layer]) / 2
}

func (m *Model) placeExchanges() {
	for _, g := range m.gaps {
		layer := m.input.Layers[g.layer]
		if len(layer.Cavity.Exchange) > 0 {
			m.exchanges = append(m.exchanges, exchange{
				node: g.node, from: layer.Cavity.From, flow: layer.Cavity.Exchange,
				factor: layer.Thickness * AirDensity / 3600,
			})
		}
	}
	for _, p := range m.input.Paths {
		m.exchanges = append(m.exchanges, exchange{node: m.node(p.At), from: p.From, flow: p.Flow, factor: 1})
	}
}

func (m *Model) placeSource(s Source) (source, error) {
	for k := range m.slabs {
		slab := &m.slabs[k]
		if slab.layer != s.At.Layer {
			continue
		}
		placed := source{layer: s.At.Layer, first: m.node(s.At), share: []float64{1}, water: s.Water}
		if s.At.Face == Whole {
			placed.first, placed.share = slab.first, make([]float64, len(slab.volume))
			for i, v := range slab.volume {
				placed.share[i] = v / m.input.Layers[slab.layer].Thickness
			}
		}
		return placed, nil
	}
	return source{}, errors.New("water flows into solid layers only")
}

// placeRain finds the layers that take the rain of the two sides.
func (m *Model) placeRain() error {
	layers := m.input.Layers
	for side, at := range []int{0, len(layers) - 1} {
		m.rainLayer[side] = -1
		if len(m.surface(Side(side)).Rain) == 0 {
			continue
		}
		if layers[at].Material == nil {
			return errors.New("rain is taken by a solid layer only; leave it out where a coat or a cavity comes first")
		}
		m.rainLayer[side] = at
	}
	return nil
}

func (m *Model) surface(s Side) *Surface {
	if s == Outside {
		return &m.input.Outside
	}
	return &m.input.Inside
}

// Input returns the compiled input.
func (m *Model) Input() Input { return m.input }
