package report

// NoFaceDrops is for the tests that make whole pages.
var NoFaceDrops = noFaceDrops
