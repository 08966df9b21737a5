package steady

// Path is the way of vapor from a plane to the air of one side.
type Path struct {
	// Resistance is that of the whole way, s·m²·Pa/kg, vents and the film
	// included.
	Resistance float64
	// Shares holds for each layer its share of the resistance, 0 to 1; 0 off the
	// way. Film is the share of the film. All shares add up to 1.
	Shares []float64
	Film   float64
	// Choke is the layer with the largest share, and ChokeShare that share; −1
	// and 0 where the way crosses no layer.
	Choke      int
	ChokeShare float64
}

// DryingPath returns the way from plane j to the air of the side with the
// permeances of month m when the plane is wet. The layers outside of a
// vent count in parallel with it: a share is the part of the pressure drop
// between the plane and the air. A vent inward of the plane does not count toward the
// inside. Without any resistance, at a surface without a film, all shares are
// 0. Shares belongs to the workspace and is valid until its next call.
func (w *Workspace) DryingPath(in *Input, m Month, j int, side Side) (Path, error) {
	if err := firstError(in.checkMonth(m), within("plane", float64(j), 0, float64(len(in.Layers)))); err != nil {
		return Path{}, err
	}
	w.load(in, false)
	return w.path(&m, j, side), nil
}

// DryingPaths gives the way in each month of in to a function; see
// [Workspace.DryingPath]. What it is given is valid until the function returns,
// and the function must not use the workspace.
func (w *Workspace) DryingPaths(in *Input, j int, side Side, each func(month int, p Path)) error {
	if err := firstError(w.validate(in), within("plane", float64(j), 0, float64(len(in.Layers)))); err != nil {
		return err
	}
	w.load(in, false)
	for m := range in.Months {
		each(m, w.path(&in.Months[m], j, side))
	}
	return nil
}

// path finds the way in one month on the planes that are loaded.
func (w *Workspace) path(m *Month, j int, side Side) Path {
	w.beginDry(m)
	if w.net.canTouch(j) {
		w.net.hold(j)
	}
	w.readPermeances((*network).settle)
	w.shares = resized(w.shares, len(w.in.Layers))
	clear(w.shares)
	path := Path{Shares: w.shares, Choke: -1}
	if side == Inward {
		w.pathInward(&path, j)
	} else {
		w.pathOutward(&path, j)
	}
	for i, share := range path.Shares {
		if share > path.ChokeShare {
			path.Choke, path.ChokeShare = i, share
		}
	}
	return path
}

func (w *Workspace) pathInward(path *Path, j int) {
	z := w.net.zIn
	for k := range j {
		z += w.net.z[k]
	}
	path.Resistance = z
	if z == 0 {
		return
	}
	path.Film = w.net.zIn / z
	for k := range j {
		path.Shares[k] = w.net.z[k] / z
	}
}

// pathOutward shares out the pressure drop from plane j to the outdoor air.
func (w *Workspace) pathOutward(path *Path, j int) {
	w.net.release()
	w.net.firstFlow() // fills beyondZ
	path.Resistance = w.net.outwardResistance(j)
	rest := 1.0 // share of the way outside of plane k
	for k := j; k < len(w.net.z); k++ {
		path.Shares[k] = rest * w.net.z[k] / w.net.beyondZ[k]
		rest *= w.net.outwardResistance(k+1) / w.net.beyondZ[k]
	}
	if w.net.zOut > 0 {
		path.Film = rest
	}
}
