// Command relath advises on what a house is built of: see README.md.
package main

import (
	"context"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"

	"relath/cmd/internal/cli"
)

// heapGrowth is the share in % by which the heap may grow before memory is
// collected. Most runs end before they have used 16 MB, and then never collect.
const heapGrowth = 400

func main() {
	debug.SetGCPercent(heapGrowth)
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := cli.Run(ctx, os.Args[1:], cli.Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr})
	stop()
	os.Exit(code)
}
