package kb

import (
	"math"
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// thing is a thing with every kind that the base uses.
type thing struct {
	Text  string
	Whole int
	Real  float64
	Is    bool
	One   *thing
	List  []thing
	Words []string
	Inner struct{ X, Y float64 }
}

// What is packed comes back, whatever the values; no bytes are left over.
func TestPackRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := drawThing(t, 3)
		var got thing
		ok := unpacked(string(packed(reflect.ValueOf(want))), reflect.ValueOf(&got).Elem())
		if diff := cmp.Diff(want, got); diff != "" || !ok {
			t.Fatalf("fits %v (-packed +unpacked):\n%s", ok, diff)
		}
	})
}

func drawThing(t *rapid.T, depth int) thing {
	p := thing{
		Text: rapid.String().Draw(t, "text"), Whole: rapid.Int().Draw(t, "whole"), Is: rapid.Bool().Draw(t, "is"),
		Real: rapid.Float64Range(-math.MaxFloat64, math.MaxFloat64).Draw(t, "real"),
	}
	p.Inner.Y = rapid.Float64Range(0, 1).Draw(t, "y")
	if depth > 0 && rapid.Bool().Draw(t, "one") {
		one := drawThing(t, depth-1)
		p.One = &one
	}
	for range rapid.IntRange(0, depth).Draw(t, "list") {
		p.List = append(p.List, drawThing(t, depth-1))
	}
	for range rapid.IntRange(0, 2).Draw(t, "words") {
		p.Words = append(p.Words, rapid.String().Draw(t, "word"))
	}
	return p
}

// Any bytes give a base or a failure, never a panic or a hang: the checksum
// keeps such bytes out, but nothing must depend on that.
func FuzzUnpack(f *testing.F) {
	good := packed(reflect.ValueOf(mustLoad(f, small(f))).Elem())
	f.Add(good)
	f.Add(good[:len(good)/2])
	f.Add([]byte{1, 255, 255, 255, 255, 255, 255, 255, 255, 127})
	f.Fuzz(func(t *testing.T, data []byte) {
		var b, c Base
		if !unpacked(string(data), reflect.ValueOf(&b).Elem()) {
			return
		}
		if !unpacked(string(packed(reflect.ValueOf(b))), reflect.ValueOf(&c).Elem()) {
			t.Error("a base that was unpacked does not pack again")
		}
	})
}
