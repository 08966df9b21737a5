package transient

// row is the part of a row of the system that belongs to a node alone: a 2×2
// matrix by row (a11 a12 a21 a22) and the right side. Rows are heat and moisture,
// columns temperature and coordinate.
type row struct {
	diagonal [4]float64
	right    [2]float64
	upper    [4]float64 // set by solve
}

// face holds the amounts of heat and water that go from a node to the next one in
// a step, and their slopes by the states of the left and the right node.
type face struct {
	heat, mass  float64
	left, right [4]float64 // slopes: heat by t, heat by x, mass by t, mass by x
}

// solve eliminates the block tridiagonal system of rows and the faces between them
// in place and leaves the solution in right. It reports whether every pivot could
// be inverted. There is no pivoting between nodes: storage makes the diagonal
// heavy.
func solve(rows []row, faces []face) bool {
	for i := range rows {
		r := &rows[i]
		d, v := r.diagonal, r.right
		if i > 0 {
			f, before := &faces[i-1], &rows[i-1]
			l, u, y := &f.left, &before.upper, &before.right
			// The flow comes in: minus its slopes, and what the elimination of
			// the node before brings, whose block is minus l.
			d[0] += l[0]*u[0] + l[1]*u[2] - f.right[0]
			d[1] += l[0]*u[1] + l[1]*u[3] - f.right[1]
			d[2] += l[2]*u[0] + l[3]*u[2] - f.right[2]
			d[3] += l[2]*u[1] + l[3]*u[3] - f.right[3]
			v[0] += f.heat + l[0]*y[0] + l[1]*y[1]
			v[1] += f.mass + l[2]*y[0] + l[3]*y[1]
		}
		var u [4]float64
		if i < len(faces) {
			f := &faces[i]
			d[0] += f.left[0]
			d[1] += f.left[1]
			d[2] += f.left[2]
			d[3] += f.left[3]
			v[0] -= f.heat
			v[1] -= f.mass
			u = f.right
		}
		determinant := d[0]*d[3] - d[1]*d[2]
		if determinant == 0 || determinant != determinant {
			return false
		}
		scale := 1 / determinant
		a, b, c, e := d[3]*scale, -d[1]*scale, -d[2]*scale, d[0]*scale
		r.upper = [4]float64{a*u[0] + b*u[2], a*u[1] + b*u[3], c*u[0] + e*u[2], c*u[1] + e*u[3]}
		r.right = [2]float64{a*v[0] + b*v[1], c*v[0] + e*v[1]}
	}
	substitute(rows)
	return true
}

// substitute turns the right sides of eliminated rows into the solution.
func substitute(rows []row) {
	for i := len(rows) - 2; i >= 0; i-- {
		u, v, next := &rows[i].upper, &rows[i].right, &rows[i+1].right
		v[0] -= u[0]*next[0] + u[1]*next[1]
		v[1] -= u[2]*next[0] + u[3]*next[1]
	}
}
