// Package houses gives tests the shipped base and houses read from text.
package houses

import (
	"sync"
	"testing"

	"relath/advisor/assembly"
	"relath/kb"
)

var shipped = sync.OnceValues(func() (*kb.Base, error) { return kb.Load(kb.Embedded()) })

// Base gives the shipped base, read once. No test changes it.
func Base(t testing.TB) *kb.Base {
	t.Helper()
	base, err := shipped()
	if err != nil {
		t.Fatal(err)
	}
	return base
}

// Read reads the description of a house and ties it to a base.
func Read(t testing.TB, base *kb.Base, text string) *assembly.Resolved {
	t.Helper()
	house, doc, problems := assembly.Parse("house.yaml", []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	r, problems := assembly.Resolve(house, doc, base)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return r
}
