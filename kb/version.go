package kb

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"hash"
	"hash/crc32"
	"io"
	"io/fs"
)

// versioner hashes paths, lengths and checksums of files in the order of
// [walkTrees]. The checksum of a file is a CRC: the version tells states of a
// base apart at every start of the program, nobody is kept from forging one,
// and hashing all bytes would take ten times as long.
type versioner struct{ sum hash.Hash }

func newVersioner() versioner { return versioner{sha256.New()} }

// add takes in a file.
func (v versioner) add(f file, bytes int, checksum uint32) {
	v.number(f.tree)
	v.number(len(f.path))
	v.sum.Write([]byte(f.path))
	v.number(bytes)
	v.number(int(checksum))
}

func (v versioner) number(n int) {
	v.sum.Write(binary.LittleEndian.AppendUint64(nil, uint64(n)))
}

func (v versioner) String() string { return hex.EncodeToString(v.sum.Sum(nil)) }

// versionOf gives the version of files that have been read.
func versionOf(files []file) string {
	v := newVersioner()
	for _, f := range files {
		v.add(f, len(f.data), crc32.Checksum(f.data, castagnoli))
	}
	return v.String()
}

// hashTrees gives the version of the files in folders, without keeping them.
func hashTrees(trees []tree) (string, error) {
	v := newVersioner()
	buffer := make([]byte, 32<<10)
	err := walkTrees(trees, func(from fs.FS, f file) error {
		bytes, sum, err := 0, uint32(0), error(nil)
		if f.problem == "" {
			bytes, sum, err = checksumOf(from, f.path, buffer)
		}
		v.add(f, bytes, sum)
		return err
	})
	return v.String(), err
}

// checksumOf reads a file and gives the number of its bytes and their checksum.
func checksumOf(from fs.FS, path string, buffer []byte) (bytes int, sum uint32, err error) {
	f, err := from.Open(path)
	if err != nil {
		return 0, 0, err
	}
	defer f.Close()
	for {
		n, err := f.Read(buffer)
		sum = crc32.Update(sum, castagnoli, buffer[:n])
		bytes += n
		switch {
		case errors.Is(err, io.EOF):
			return bytes, sum, nil
		case err != nil:
			return bytes, sum, err
		}
	}
}
