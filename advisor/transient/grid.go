package transient

import "math"

// The cells of a layer follow the map x = (1 + tanh(a·(2ξ−1))/tanh a)/2 from even ξ
// to places in it. It is smooth, so that the order of the method holds, and makes
// the middle cells wider than those at the faces: 25 times with a = steepGrading,
// for drops of humidity and temperature at faces, 4 times with a = flatGrading, for
// water that is sucked far into a thick layer.
const (
	steepGrading = 2.3
	flatGrading  = 1.3
	// thick is the thickness in m from which on a layer in which liquid moves gets
	// the flat grading.
	thick = 0.03
)

// contactResistance in m²·K/W stands between the two nodes at a sheet, which has
// none, so that one matrix serves all; it is that of 0.2 µm of still air.
const contactResistance = 1e-5

// slab is a compiled solid layer: n cells, n+1 nodes.
type slab struct {
	layer     int       // index in Input.Layers
	first     int       // node of the outer face
	firstSlot int       // slot of the outer face, see Workspace.values
	volume    []float64 // m³/m² of each node that belongs to this layer
	inverse   []float64 // 1/distance between nodes, 1/m
	depth     []float64 // of the nodes from the outer face, m
}

// link is a path between two neighboring nodes that is no cell: air to a face of
// a cavity, sheets, or both.
type link struct {
	left            int     // node; the other one is left+1
	resistance      float64 // m²·K/W
	vaporResistance float64 // s·m²·Pa/kg
	sheet           *sheet  // nil for none
}

// cellsByThickness returns the number of cells of a solid layer. With it the water
// of the layers of a brick veneer wall errs by 1 to 2 % in its worst hour.
func cellsByThickness(thickness float64) int {
	switch {
	case thickness < 0.005:
		return 8
	case thickness < 0.02:
		return 14
	case thickness < 0.06:
		return 18
	case thickness < 0.2:
		return 22
	}
	return 28
}

// newSlab places the nodes of a solid layer with index i.
func newSlab(i int, layer *Layer, first, firstSlot, cells int) slab {
	grading, thickness := steepGrading, layer.Thickness
	if layer.Material.Functions.Diffusivity != nil && thickness >= thick {
		grading = flatGrading
	}
	s := slab{
		layer: i, first: first, firstSlot: firstSlot,
		volume:  make([]float64, cells+1),
		inverse: make([]float64, cells),
		depth:   make([]float64, cells+1),
	}
	for i := range s.depth {
		xi := 2*float64(i)/float64(cells) - 1
		s.depth[i] = thickness * (1 + math.Tanh(grading*xi)/math.Tanh(grading)) / 2
	}
	for i := range s.inverse {
		width := s.depth[i+1] - s.depth[i]
		s.inverse[i] = 1 / width
		s.volume[i] += width / 2
		s.volume[i+1] += width / 2
	}
	return s
}

// last returns the node of the inner face.
func (s *slab) last() int { return s.first + len(s.inverse) }

// gap is a compiled cavity: one node.
type gap struct {
	layer, node  int
	heatCapacity float64 // J/(m²·K)
	storage      float64 // vapor in kg/m² per Pa
}

// Node is one row of the grid as it is printed.
type Node struct {
	Layer int     // index in Input.Layers; a node in two layers has two rows
	Depth float64 // m from the outer face of the layer
	Width float64 // m of the layer that the node holds
}

// Nodes returns the grid for people and other programs, outside first.
func (m *Model) Nodes() []Node {
	var nodes []Node
	s, g := m.slabs, m.gaps
	for len(s)+len(g) > 0 {
		if len(g) == 0 || len(s) > 0 && s[0].layer < g[0].layer {
			for i, depth := range s[0].depth {
				nodes = append(nodes, Node{s[0].layer, depth, s[0].volume[i]})
			}
			s = s[1:]
			continue
		}
		d := m.input.Layers[g[0].layer].Thickness
		nodes = append(nodes, Node{g[0].layer, d / 2, d})
		g = g[1:]
	}
	return nodes
}
