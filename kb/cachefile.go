package kb

import (
	"bytes"
	"encoding/binary"
	"encoding/gob"
	"errors"
	"fmt"
	"hash/crc32"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"sync"
)

// A cache file is this line, the mark of the program that wrote it, a checksum
// of the rest, and the base as several pieces of gob, each with its length in
// front.
const cacheMagic = "relath base\n"

// pieces is the number of parts of a cached base, which are decoded at once.
const pieces = 2

var (
	errDamaged = errors.New("cache file is damaged")
	errForeign = errors.New("cache file was written by another build of the program")
	castagnoli = crc32.MakeTable(crc32.Castagnoli)
)

// readCache reads a cache file; the error says why it cannot be used.
func readCache(name string) (*Base, error) {
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	return parseCache(data)
}

func parseCache(data []byte) (*Base, error) {
	mark := []byte(cacheMagic + buildMark())
	head := len(mark) + crc32.Size
	switch {
	case !bytes.HasPrefix(data, mark):
		return nil, errForeign
	case len(data) < head || binary.LittleEndian.Uint32(data[len(mark):]) != crc32.Checksum(data[head:], castagnoli):
		return nil, errDamaged
	}
	data = data[head:]
	parts := make([]Base, pieces)
	failed := make([]error, pieces)
	var wait sync.WaitGroup
	for i := range parts {
		length, n := binary.Uvarint(data)
		if n <= 0 || length > uint64(len(data)-n) {
			wait.Wait()
			return nil, errDamaged
		}
		piece := data[n : n+int(length)]
		data = data[n+int(length):]
		wait.Go(func() { failed[i] = gob.NewDecoder(bytes.NewReader(piece)).Decode(&parts[i]) })
	}
	wait.Wait()
	if err := errors.Join(failed...); err != nil {
		return nil, err
	}
	return join(parts), nil
}

// writeCache writes a cache file in one step: readers see the old file, the
// whole new one, or none.
func writeCache(name string, b *Base) error {
	var payload []byte
	for _, part := range split(b) {
		var piece bytes.Buffer
		if err := gob.NewEncoder(&piece).Encode(part); err != nil {
			return err
		}
		payload = binary.AppendUvarint(payload, uint64(piece.Len()))
		payload = append(payload, piece.Bytes()...)
	}
	data := []byte(cacheMagic + buildMark())
	data = binary.LittleEndian.AppendUint32(data, crc32.Checksum(payload, castagnoli))
	data = append(data, payload...)
	temp, err := os.CreateTemp(filepath.Dir(name), "base-*.tmp")
	if err != nil {
		return err
	}
	_, err = temp.Write(data)
	if err = errors.Join(err, temp.Close()); err == nil {
		err = os.Rename(temp.Name(), name)
	}
	if err != nil {
		_ = os.Remove(temp.Name())
	}
	return err
}

// split cuts every list of a base in as many parts as there are pieces. The
// version goes with the first.
func split(b *Base) []Base {
	parts := make([]Base, pieces)
	parts[0].Version = b.Version
	whole := reflect.ValueOf(b).Elem()
	for f := range whole.NumField() {
		list := whole.Field(f)
		if list.Kind() != reflect.Slice {
			continue
		}
		for i := range parts {
			reflect.ValueOf(&parts[i]).Elem().Field(f).Set(list.Slice(i*list.Len()/pieces, (i+1)*list.Len()/pieces))
		}
	}
	return parts
}

// join is the inverse of split.
func join(parts []Base) *Base {
	b := &Base{Version: parts[0].Version}
	whole := reflect.ValueOf(b).Elem()
	for f := range whole.NumField() {
		list := whole.Field(f)
		if list.Kind() != reflect.Slice {
			continue
		}
		for i := range parts {
			list.Set(reflect.AppendSlice(list, reflect.ValueOf(&parts[i]).Elem().Field(f)))
		}
	}
	return b
}

// buildMark tells builds of the program apart: another build may read the same
// files into other types, or in another way.
func buildMark() string {
	mark := runtime.Version()
	if name, err := os.Executable(); err == nil {
		if info, err := os.Stat(name); err == nil {
			mark = fmt.Sprintf("%s %d %d", mark, info.Size(), info.ModTime().UnixNano())
		}
	}
	return mark + "\n"
}
