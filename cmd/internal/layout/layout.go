// Package layout holds the project to its plan: the table of allowed imports
// in DEVELOPERS.md, the third parties that keep to one room, and the fixed top
// level. It has no code of its own, only tests.
package layout
