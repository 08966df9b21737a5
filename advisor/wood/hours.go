package wood

// Decay of wood stops at about these temperatures, °C (Wood Handbook ch. 14).
const (
	decayColdest = 2.0
	decayWarmest = 38.0
)

// DampHours counts the hours that wood spends above its moisture limits. The
// zero value is ready; advancing it allocates nothing.
type DampHours struct {
	AbovePaint, AboveSafe, AboveDecay int
	// DecayHours are those above [DecayLimit] at a temperature that lets fungi work.
	DecayHours int
	// Highest moisture content seen, kg/kg.
	Highest float64
}

// Advance counts one hour at the temperature t in °C and the moisture content in
// kg of water per kg of dry wood. A limit just met does not count. A NaN counts in
// no hour and makes Highest NaN.
func (w *DampHours) Advance(t, content float64) {
	if content > PaintLimit {
		w.AbovePaint++
	}
	if content > SafeLimit {
		w.AboveSafe++
	}
	if content > DecayLimit {
		w.AboveDecay++
		if t > decayColdest && t < decayWarmest {
			w.DecayHours++
		}
	}
	w.Highest = max(w.Highest, content)
}
