package kb

import (
	"embed"
	"io/fs"
)

//go:embed data
var dataFiles embed.FS

// Embedded gives the data tree that is part of the program.
func Embedded() fs.FS {
	sub, err := fs.Sub(dataFiles, "data")
	if err != nil {
		panic(err) // not reached: "data" is a valid path
	}
	return sub
}
