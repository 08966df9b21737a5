// Package honesty tests that keep the program honest: answers hold when every
// name of the base is another one, move as they say when a value is nudged,
// come again from a file, turn where they must, and break when the code does.
//
// It holds no code of its own.
package honesty
