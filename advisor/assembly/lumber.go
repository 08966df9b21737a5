package assembly

import (
	"fmt"
	"sort"
	"strings"

	"relath/kb/quantity"
)

// actualSizes gives the actual depth of nominal framing, dry dressed lumber.
// Source: American Softwood Lumber Standard PS 20, recalled. Old rough lumber
// is thicker; the description then gives its depth.
func actualSizes() map[string]string {
	return map[string]string{
		"2x3": "2-1/2 in", "2x4": "3-1/2 in", "2x6": "5-1/2 in",
		"2x8": "7-1/4 in", "2x10": "9-1/4 in", "2x12": "11-1/4 in",
	}
}

// nominalDepth gives the actual depth [m] of a nominal size such as 2x6.
func nominalDepth(size string) (float64, error) {
	sizes := actualSizes()
	text, ok := sizes[strings.ReplaceAll(strings.ToLower(size), " ", "")]
	if !ok {
		names := make([]string, 0, len(sizes))
		for name := range sizes {
			names = append(names, name)
		}
		sort.Slice(names, func(i, j int) bool {
			return len(names[i]) < len(names[j]) || len(names[i]) == len(names[j]) && names[i] < names[j]
		})
		return 0, fmt.Errorf("size %q: allowed are %s, or give depth: 3-3/4 in", size, strings.Join(names, ", "))
	}
	return quantity.Parse(text, quantity.Length)
}
