package transient

// block is one row of a block tridiagonal system: 2×2 matrices by row (a11 a12
// a21 a22) for the node before, the node itself and the node after, and the right
// side. Rows are heat and moisture, columns temperature and coordinate.
type block struct {
	lower, diagonal, upper [4]float64
	right                  [2]float64
}

// solve eliminates the system in place and leaves the solution in right. It
// reports whether every pivot block could be inverted. There is no pivoting
// between blocks; storage keeps the diagonal heavy.
func solve(rows []block) bool {
	for i := range rows {
		r := &rows[i]
		if i > 0 {
			reduce(r, &rows[i-1])
		}
		d := &r.diagonal
		determinant := d[0]*d[3] - d[1]*d[2]
		if determinant == 0 || determinant != determinant {
			return false
		}
		scale := 1 / determinant
		a, b, c, e := d[3]*scale, -d[1]*scale, -d[2]*scale, d[0]*scale
		u := &r.upper
		u[0], u[1], u[2], u[3] = a*u[0]+b*u[2], a*u[1]+b*u[3], c*u[0]+e*u[2], c*u[1]+e*u[3]
		v := &r.right
		v[0], v[1] = a*v[0]+b*v[1], c*v[0]+e*v[1]
	}
	for i := len(rows) - 2; i >= 0; i-- {
		u, v, next := &rows[i].upper, &rows[i].right, &rows[i+1].right
		v[0] -= u[0]*next[0] + u[1]*next[1]
		v[1] -= u[2]*next[0] + u[3]*next[1]
	}
	return true
}

// reduce takes the row before, already divided by its pivot, out of r.
func reduce(r, before *block) {
	l, u, v := &r.lower, &before.upper, &before.right
	d := &r.diagonal
	d[0] -= l[0]*u[0] + l[1]*u[2]
	d[1] -= l[0]*u[1] + l[1]*u[3]
	d[2] -= l[2]*u[0] + l[3]*u[2]
	d[3] -= l[2]*u[1] + l[3]*u[3]
	r.right[0] -= l[0]*v[0] + l[1]*v[1]
	r.right[1] -= l[2]*v[0] + l[3]*v[1]
}
