package checks

import (
	"fmt"
	"path/filepath"
	"slices"
)

// summary returns the line about the file: rows, worst and allowed deviation,
// source, basis.
func (f *File) summary() string {
	worst := "nothing compared"
	if w := f.worst; w.any {
		kind := "abs"
		if w.tolerance.Relative {
			kind = "rel"
		}
		worst = fmt.Sprintf("worst %.3g of %.3g %s allowed (%s, row %d)", w.size, w.allowed, kind, w.column, w.row)
	}
	return fmt.Sprintf("%s: %d rows, %s; %s; %s", f.Name, len(f.rows), worst, f.Source, f.Basis)
}

// complaints returns what the test left out, in column order.
func (f *File) complaints() []string {
	var out []string
	if len(f.compared) == 0 {
		out = append(out, "no column was compared")
	}
	for _, column := range f.order {
		rows, compared := f.compared[column]
		switch {
		case compared:
			for i := range f.rows {
				if !rows[i] && f.rows[i][f.columns[column]] != "" {
					out = append(out, fmt.Sprintf("row %d: column %s was not compared", i+1, column))
				}
			}
		case !f.used[column] && column != "note":
			out = append(out, fmt.Sprintf("column %s was never read or compared", column))
		}
	}
	return out
}

// Total counts the check files and their rows of one basis.
type Total struct {
	Basis Basis
	Files int
	Rows  int
}

// Totals counts all check files of the module apart by basis, in the order of
// [Bases].
func Totals() ([]Total, error) {
	names, err := Names()
	if err != nil {
		return nil, err
	}
	folder, err := Folder()
	if err != nil {
		return nil, err
	}
	var totals []Total
	for _, basis := range Bases() {
		totals = append(totals, Total{Basis: basis})
	}
	for _, name := range names {
		f, err := load(folder, name)
		if err != nil {
			return nil, err
		}
		i := slices.Index(Bases(), f.Basis)
		totals[i].Files++
		totals[i].Rows += len(f.rows)
	}
	return totals, nil
}

// Names returns the names of all check files of the module, sorted.
func Names() ([]string, error) {
	folder, err := Folder()
	if err != nil {
		return nil, err
	}
	paths, err := filepath.Glob(filepath.Join(folder, "*.csv"))
	if err != nil {
		return nil, err
	}
	names := make([]string, len(paths))
	for i, path := range paths {
		names[i] = filepath.Base(path)
	}
	return names, nil
}
