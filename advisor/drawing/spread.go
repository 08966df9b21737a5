package drawing

// Spread places things in a column: each is as high as heights says and would
// like its middle at want. They keep their order, stand at least a gap apart
// and within from and to where they fit, and together stay as near to their
// wishes as they can. It gives their middles. What does not fit runs over to.
func Spread(want, heights []float64, gap, from, to float64) []float64 {
	type block struct {
		first, n  int
		size      float64 // with the gaps between
		at, moved float64 // top, and the sum of the wished tops
	}
	var blocks []block
	settle := func(b *block) {
		b.at = max(min(b.moved/float64(b.n), to-b.size), from)
	}
	for i, h := range heights {
		b := block{first: i, n: 1, size: h, moved: want[i] - h/2}
		settle(&b)
		for len(blocks) > 0 {
			last := blocks[len(blocks)-1]
			if last.at+last.size+gap <= b.at {
				break
			}
			// The tops of the later block, seen from the top of the joined one.
			shift := last.size + gap
			b = block{first: last.first, n: last.n + b.n, size: last.size + gap + b.size, moved: last.moved + b.moved - shift*float64(b.n)}
			settle(&b)
			blocks = blocks[:len(blocks)-1]
		}
		blocks = append(blocks, b)
	}
	out := make([]float64, len(heights))
	for _, b := range blocks {
		at := b.at
		for i := b.first; i < b.first+b.n; i++ {
			out[i] = at + heights[i]/2
			at += heights[i] + gap
		}
	}
	return out
}
