package web

import (
	"encoding/json"
	"io"
	"path"
)

// The most that is kept in the record of a house.
const (
	mostTried       = 500
	mostRecordBytes = 1 << 20
)

// tried is one line of the record of swaps.
type tried struct {
	What    string `json:"what"`
	Dropped bool   `json:"dropped,omitempty"`
	Why     string `json:"why,omitempty"` // why it was dropped, if somebody said so
}

// recordName is where the record of a house lies.
func recordName(file string) string { return path.Join(hidden, file+".tried.json") }

// readRecord gives the record of a house. One that is missing or damaged is
// empty: it is a convenience, and the next line begins it anew.
func (f *folder) readRecord(house string) []tried {
	file, err := f.root.Open(recordName(house))
	if err != nil {
		return nil
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, mostRecordBytes))
	var list []tried
	if err != nil || json.Unmarshal(data, &list) != nil {
		return nil
	}
	return list
}

// writeRecord puts the record of a house in the place of the one that stands
// there.
func (f *folder) writeRecord(house string, list []tried) error {
	if err := f.hide(); err != nil {
		return err
	}
	data, err := json.MarshalIndent(list, "", "  ")
	if err != nil {
		return err
	}
	temporary, err := f.write(append(data, '\n'))
	if err != nil {
		return err
	}
	return f.root.Rename(temporary, recordName(house))
}

// note adds a line to the record of a house. The change that it is about is made
// already, so that a record that cannot be written is no error of the change.
func (s *shelf) note(p *past, file string, line tried) {
	p.tried = append(p.tried, line)
	p.tried = p.tried[max(0, len(p.tried)-mostTried):]
	p.unwritten = s.folder.writeRecord(file, p.tried) != nil
}
