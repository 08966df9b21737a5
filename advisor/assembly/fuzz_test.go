package assembly_test

import (
	"os"
	"path/filepath"
	"testing"

	"relath/advisor/assembly"
)

// FuzzRead reads any bytes: a house or located problems, never a panic. What is
// taken is written and read back to the same text.
func FuzzRead(f *testing.F) {
	for _, pattern := range []string{"../../testdata/houses/*.yaml", hostile + "/*.yaml"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			f.Fatal(err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data)
		}
	}
	base := loadBase(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		resolved, problems := read(base, "fuzz.yaml", data)
		if resolved == nil {
			if len(problems) == 0 {
				t.Fatal("neither a house nor a problem")
			}
			return
		}
		text, err := assembly.Write(resolved.House)
		if err != nil {
			t.Fatal(err)
		}
		again, problems := read(base, "again.yaml", text)
		if len(problems) > 0 {
			t.Fatalf("what was written is refused: %v\n%s", problems, text)
		}
		twice, err := assembly.Write(again.House)
		if err != nil || string(twice) != string(text) {
			t.Fatalf("written twice it differs: %v\n%s\n%s", err, text, twice)
		}
	})
}
