package kb

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"strings"
)

// A cache file is this line, the mark of the program that wrote it, a checksum
// of the rest, and the packed base.
const cacheMagic = "relath base\n"

var (
	errDamaged = errors.New("cache file is damaged")
	errForeign = errors.New("cache file was written by another build of the program")
	castagnoli = crc32.MakeTable(crc32.Castagnoli)
)

// readCache reads a cache file; the error says why it cannot be used.
func readCache(name string) (*Base, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var text strings.Builder
	if info, err := f.Stat(); err == nil {
		text.Grow(int(info.Size()))
	}
	if _, err := io.Copy(&text, f); err != nil {
		return nil, err
	}
	return parseCache(text.String())
}

func parseCache(text string) (*Base, error) {
	text, ok := strings.CutPrefix(text, cacheMagic+buildMark())
	switch {
	case !ok:
		return nil, errForeign
	case len(text) < crc32.Size || text[:crc32.Size] != checksum(text[crc32.Size:]):
		return nil, errDamaged
	}
	b := new(Base)
	if !unpacked(text[crc32.Size:], reflect.ValueOf(b).Elem()) {
		return nil, errDamaged
	}
	return b, nil
}

// checksum gives the bytes that stand before the packed base.
func checksum(text string) string {
	sum := uint32(0)
	var chunk [8192]byte
	for len(text) > 0 {
		n := copy(chunk[:], text)
		sum = crc32.Update(sum, castagnoli, chunk[:n])
		text = text[n:]
	}
	return string(binary.LittleEndian.AppendUint32(nil, sum))
}

// writeCache writes a cache file in one step: readers see the old file, the
// whole new one, or none.
func writeCache(name string, b *Base) error {
	packed := string(packed(reflect.ValueOf(b).Elem()))
	temp, err := os.CreateTemp(filepath.Dir(name), "base-*.tmp")
	if err != nil {
		return err
	}
	_, err = io.WriteString(temp, cacheMagic+buildMark()+checksum(packed)+packed)
	if err = errors.Join(err, temp.Close()); err == nil {
		err = os.Rename(temp.Name(), name)
	}
	if err != nil {
		_ = os.Remove(temp.Name())
	}
	return err
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
