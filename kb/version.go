package kb

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"hash"
	"io"
	"io/fs"
)

// versioner hashes paths and bytes of files in the order of [walkTrees].
type versioner struct{ sum hash.Hash }

func newVersioner() versioner { return versioner{sha256.New()} }

// begin writes what comes before the bytes of a file, end what comes after.
func (v versioner) begin(f file) {
	v.number(f.tree)
	v.number(len(f.path))
	v.sum.Write([]byte(f.path))
}

func (v versioner) end(bytes int) { v.number(bytes) }

func (v versioner) number(n int) {
	v.sum.Write(binary.LittleEndian.AppendUint64(nil, uint64(n)))
}

func (v versioner) String() string { return hex.EncodeToString(v.sum.Sum(nil)) }

// versionOf gives the version of files that have been read.
func versionOf(files []file) string {
	v := newVersioner()
	for _, f := range files {
		v.begin(f)
		v.sum.Write(f.data)
		v.end(len(f.data))
	}
	return v.String()
}

// hashTrees gives the version of the files in folders, without keeping them.
func hashTrees(trees []tree) (string, error) {
	v := newVersioner()
	buffer := make([]byte, 32<<10)
	err := walkTrees(trees, func(from fs.FS, f file) error {
		v.begin(f)
		n, err := 0, error(nil)
		if f.problem == "" {
			n, err = v.stream(from, f.path, buffer)
		}
		v.end(n)
		return err
	})
	return v.String(), err
}

// stream hashes the bytes of a file and gives their number.
func (v versioner) stream(from fs.FS, path string, buffer []byte) (int, error) {
	f, err := from.Open(path)
	if err != nil {
		return 0, err
	}
	defer f.Close()
	total := 0
	for {
		n, err := f.Read(buffer)
		v.sum.Write(buffer[:n])
		total += n
		switch {
		case errors.Is(err, io.EOF):
			return total, nil
		case err != nil:
			return total, err
		}
	}
}
