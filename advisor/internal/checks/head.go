package checks

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// Basis says what the expected values of a file rest on.
type Basis string

// The four bases.
const (
	// PublishedRead: printed in a source whose text was read.
	PublishedRead Basis = "published-read"
	// PublishedRecalled: printed in a named source, written down from memory.
	PublishedRecalled Basis = "published-recalled"
	// ClosedForm: an exact solution evaluated apart from our code.
	ClosedForm Basis = "closed-form"
	// Computed: calculated from the stated equations apart from our code.
	Computed Basis = "computed"
)

// Bases returns the four bases in the order in which they are printed.
func Bases() []Basis {
	return []Basis{PublishedRead, PublishedRecalled, ClosedForm, Computed}
}

// Tolerance is an allowed deviation.
type Tolerance struct {
	Relative bool
	Limit    float64
}

func (t Tolerance) String() string {
	kind := "abs"
	if t.Relative {
		kind = "rel"
	}
	return fmt.Sprintf("%s %g", kind, t.Limit)
}

// deviation returns how far got is from want in the measure of t.
func (t Tolerance) deviation(got, want float64) float64 {
	d := math.Abs(got - want)
	if t.Relative && d != 0 {
		return d / math.Abs(want)
	}
	return d
}

// Head holds the keys at the top of a check file.
type Head struct {
	Title, Source, Evidence, Because, Note string

	Basis      Basis
	Tolerance  Tolerance
	Tolerances map[string]Tolerance // by column, where it differs
}

// Folder returns the folder testdata/checks of the module that holds the
// working directory.
func Folder() (string, error) {
	root, err := moduleRoot()
	if err != nil {
		return "", err
	}
	return filepath.Join(root, "testdata", "checks"), nil
}

// moduleRoot returns the folder of the nearest go.mod, upward from the working
// directory.
func moduleRoot() (string, error) {
	folder, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for {
		if _, err := os.Stat(filepath.Join(folder, "go.mod")); err == nil {
			return folder, nil
		}
		parent := filepath.Dir(folder)
		if parent == folder {
			return "", fmt.Errorf("no go.mod in the working directory or above it")
		}
		folder = parent
	}
}

// load reads and parses one check file.
func load(folder, name string) (*File, error) {
	data, err := os.ReadFile(filepath.Join(folder, name))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	f, err := parse(name, data)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return f, nil
}

// parse reads the head and the rows of a check file.
func parse(name string, data []byte) (*File, error) {
	keys, table, err := split(data)
	if err != nil {
		return nil, err
	}
	head, err := newHead(keys)
	if err != nil {
		return nil, err
	}
	reader := csv.NewReader(bytes.NewReader(table))
	reader.TrimLeadingSpace = true
	records, err := reader.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("table: %w", err)
	}
	if len(records) < 2 {
		return nil, fmt.Errorf("table has no rows")
	}
	f := &File{
		Head: head, Name: name, rows: records[1:], order: records[0],
		columns: map[string]int{}, used: map[string]bool{}, compared: map[string]map[int]bool{},
	}
	for i, column := range f.order {
		if _, twice := f.columns[column]; twice || column == "" {
			return nil, fmt.Errorf("column name %q is blank or stands twice", column)
		}
		f.columns[column] = i
	}
	for _, column := range slices.Sorted(maps.Keys(head.Tolerances)) {
		if _, ok := f.columns[column]; !ok {
			return nil, fmt.Errorf("tolerance.%s: no such column", column)
		}
	}
	return f, nil
}

// split parts the comment lines at the top, as keys and values, from the table.
func split(data []byte) (keys map[string]string, table []byte, err error) {
	keys = map[string]string{}
	for len(data) > 0 && data[0] == '#' {
		advance, line, err := bufio.ScanLines(data, true)
		if err != nil {
			return nil, nil, err
		}
		data = data[advance:]
		key, value, ok := strings.Cut(strings.TrimPrefix(string(line), "#"), ":")
		key, value = strings.TrimSpace(key), strings.TrimSpace(value)
		if !ok || value == "" {
			return nil, nil, fmt.Errorf("head line %q is not \"# key: value\"", line)
		}
		if _, twice := keys[key]; twice {
			return nil, nil, fmt.Errorf("key %s stands twice", key)
		}
		keys[key] = value
	}
	return keys, data, nil
}

// newHead checks the keys and turns them into a Head.
func newHead(keys map[string]string) (Head, error) {
	for _, key := range []string{"title", "basis", "source", "evidence", "tolerance", "because"} {
		if keys[key] == "" {
			return Head{}, fmt.Errorf("key %s is missing", key)
		}
	}
	head := Head{Tolerances: map[string]Tolerance{}}
	for _, key := range slices.Sorted(maps.Keys(keys)) {
		if err := head.set(key, keys[key]); err != nil {
			return Head{}, fmt.Errorf("%s: %w", key, err)
		}
	}
	return head, head.checkBasis()
}

// set stores one key.
func (h *Head) set(key, value string) (err error) {
	switch key {
	case "title":
		h.Title = value
	case "basis":
		h.Basis = Basis(value)
	case "source":
		h.Source = value
	case "evidence":
		h.Evidence = value
	case "because":
		h.Because = value
	case "note":
		h.Note = value
	case "tolerance":
		h.Tolerance, err = parseTolerance(value)
	default:
		column, ok := strings.CutPrefix(key, "tolerance.")
		if !ok {
			return fmt.Errorf("unknown key; allowed are title, basis, source, evidence, " +
				"tolerance, tolerance.COLUMN, because, note")
		}
		h.Tolerances[column], err = parseTolerance(value)
	}
	return err
}

// checkBasis checks basis and evidence against their words and each other.
func (h *Head) checkBasis() error {
	if !slices.Contains(Bases(), h.Basis) {
		return fmt.Errorf("basis: %q is none of %v", h.Basis, Bases())
	}
	allowed := []string{"read", "reported", "recalled", "practice", "derived", "assumed"}
	switch h.Basis {
	case PublishedRead:
		allowed = []string{"read", "reported"}
	case PublishedRecalled:
		allowed = []string{"recalled"}
	}
	if !slices.Contains(allowed, h.Evidence) {
		return fmt.Errorf("evidence: %q is none of %v, the words for basis %s", h.Evidence, allowed, h.Basis)
	}
	return nil
}

// parseTolerance reads "abs X" or "rel X".
func parseTolerance(text string) (Tolerance, error) {
	kind, number, _ := strings.Cut(text, " ")
	limit, err := strconv.ParseFloat(number, 64)
	valid := err == nil && limit >= 0 && !math.IsInf(limit, 0)
	if !valid || kind != "abs" && kind != "rel" {
		return Tolerance{}, fmt.Errorf("%q is not \"abs X\" or \"rel X\" with X of at least 0", text)
	}
	return Tolerance{Relative: kind == "rel", Limit: limit}, nil
}
