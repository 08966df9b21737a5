package index_test

import (
	"testing"

	"relath/index"
	"relath/kb"
)

// two makes an index of two materials that differ in what is said of the second.
func two(t *testing.T, change func(*kb.Material)) *index.Index {
	first := &kb.Material{ID: "b-mortar", Name: "Red mortar", Form: kb.Masonry, Summary: "For laying brick."}
	second := &kb.Material{ID: "a-mortar", Name: "Blue mortar", Form: kb.Masonry, Summary: "For laying brick."}
	change(second)
	return open(t, &kb.Base{Materials: []*kb.Material{second, first}}, "")
}

// What says that it is not for where it is to go, and what is gone and never
// advised, stands behind what is equal otherwise. Asked for by its name it leads.
func TestWhatIsNotForItComesLater(t *testing.T) {
	for _, c := range []struct {
		what, ask, first string
		change           func(*kb.Material)
	}{
		{"equal", "mortar for old brick", "a-mortar", func(*kb.Material) {}},
		{"refused", "mortar for old brick", "b-mortar", func(m *kb.Material) { m.Summary += " Never for old brick." }},
		{"refused elsewhere", "mortar for old brick", "a-mortar", func(m *kb.Material) { m.Summary += " Never for soft stone." }},
		{"compared", "mortar for old brick", "a-mortar", func(m *kb.Material) { m.Summary += " Harder than old brick." }},
		{"gone", "something to lay brick", "b-mortar", func(m *kb.Material) { m.Advise, m.Available = "no", "no-longer" }},
		{"gone, by name", "blue mortar", "a-mortar", func(m *kb.Material) { m.Advise, m.Available = "no", "no-longer" }},
	} {
		found, err := two(t, c.change).Search(index.Query{Words: c.ask})
		if err != nil {
			t.Fatal(err)
		}
		if len(found.Hits) == 0 || found.Hits[0].ID != c.first {
			t.Errorf("%s: %q finds %+v; %s should lead", c.what, c.ask, found.Hits, c.first)
		}
	}
}

// A coating that must not go on a substrate stands behind one that may.
func TestCoatingNotOnASubstrate(t *testing.T) {
	paint := func(id string) *kb.Material {
		return &kb.Material{ID: id, Name: id + " paint", Form: kb.Coat, Summary: "Paint.", Coating: &kb.Coating{}}
	}
	a, b := paint("blue"), paint("red")
	a.Coating.Not = []string{"lime-plaster"}
	found, err := open(t, &kb.Base{Materials: []*kb.Material{a, b}}, "").Search(index.Query{Words: "paint on lime plaster"})
	if err != nil {
		t.Fatal(err)
	}
	if len(found.Hits) == 0 || found.Hits[0].ID != "red" {
		t.Errorf("found %+v; red should lead", found.Hits)
	}
}
