package report

// NoFaceDrops and CheckWorkbook are for the tests that make whole pages.
var (
	NoFaceDrops   = noFaceDrops
	CheckWorkbook = checkWorkbook
)
