package steady

// Profile is the steady state of one month with nothing condensing: what the
// planes would have if vapor pressure could exceed saturation. Slices hold one
// value per plane.
type Profile struct {
	Temperature []float64 // °C
	Saturation  []float64 // saturation pressure, Pa
	Pressure    []float64 // vapor pressure, Pa
	// Inflow leaves the room air, Outflow reaches the outdoor air, vents
	// included, kg/(s·m²). They are equal but for rounding.
	Inflow, Outflow float64
}

// Profile returns temperatures and vapor pressures at the planes in month m.
// It is the profile of the dew-point method of ASHRAE Handbook—Fundamentals
// 2021, ch. 27, Example 8, before correction. Permeances are those of the
// humidity that the profile itself has, at most 100 %.
func (w *Workspace) Profile(in *Input, m Month) (Profile, error) {
	if err := in.checkMonth(m); err != nil {
		return Profile{}, err
	}
	w.load(in, false)
	return w.profile(&m), nil
}

// Profiles gives the profile of each month of in to a function. What it is
// given is valid until the function returns, and the function must not use the
// workspace.
func (w *Workspace) Profiles(in *Input, each func(month int, p Profile)) error {
	if err := w.validate(in); err != nil {
		return err
	}
	w.load(in, false)
	for m := range in.Months {
		each(m, w.profile(&in.Months[m]))
	}
	return nil
}

// profile solves one month on the planes that are loaded.
func (w *Workspace) profile(m *Month) Profile {
	w.beginDry(m)
	w.readPermeances((*network).solve)
	w.net.solve()
	w.t = resized(w.t, len(w.planes))
	for k, s := range w.share {
		w.t[k] = m.IndoorT - s*(m.IndoorT-m.OutdoorT)
	}
	return Profile{
		Temperature: w.t,
		Saturation:  w.sat,
		Pressure:    w.net.p,
		Inflow:      w.net.arrive(0),
		Outflow:     w.net.outflow(0),
	}
}

// loadMonth prepares one month on the planes between layers.
func (w *Workspace) loadMonth(in *Input, m *Month) {
	w.load(in, false)
	w.beginDry(m)
}

// beginDry prepares one month on the planes that are loaded, all dry.
func (w *Workspace) beginDry(m *Month) {
	w.net.release()
	w.sat = resized(w.sat, len(w.planes))
	w.saturate(m, w.sat)
	w.setMonth(m, w.sat)
}

// Pinned is the steady state of one month with planes held at saturation.
// Slices hold one value per plane.
type Pinned struct {
	Pressure []float64 // vapor pressure, Pa
	Arrive   []float64 // vapor that reaches the plane from the inside, kg/(s·m²)
	Leave    []float64 // vapor that leaves the plane outward, kg/(s·m²)
}

// Gain returns the vapor that turns to water at plane j, kg/(s·m²); drying is
// negative.
func (p Pinned) Gain(j int) float64 { return p.Arrive[j] - p.Leave[j] }

// Pin holds the named planes at saturation in month m and lets all others be,
// even above saturation. One plane is the corrected dew-point method of ASHRAE
// Handbook—Fundamentals 2021, ch. 27, Example 8; both faces of a layer are the
// soaked layer of Example 9.
func (w *Workspace) Pin(in *Input, m Month, planes ...int) (Pinned, error) {
	if err := w.loadPinned(in, &m, planes); err != nil {
		return Pinned{}, err
	}
	w.readPermeances((*network).solve)
	w.net.solve()
	w.leave = resized(w.leave, len(w.planes))
	for k := range w.leave {
		w.leave[k] = w.net.leave(k)
	}
	return Pinned{Pressure: w.net.p, Arrive: w.net.flow[:len(w.planes)], Leave: w.leave}, nil
}

// loadPinned validates and prepares one month with planes held at saturation.
func (w *Workspace) loadPinned(in *Input, m *Month, planes []int) error {
	if err := in.checkMonth(*m); err != nil {
		return err
	}
	for _, j := range planes {
		if err := in.checkPlane(j); err != nil {
			return err
		}
	}
	w.loadMonth(in, m)
	for _, j := range planes {
		w.net.hold(j)
	}
	return nil
}
