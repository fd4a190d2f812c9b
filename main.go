// Placketeer plans and checks the closures of a garment before any cloth is
// cut.
package main

import (
	"os"

	"placketeer/rules/desk"
)

func main() {
	desk.CollectLate()
	desk.EndOnSignal()
	os.Exit(desk.Run(os.Args, os.Stdin, os.Stdout, os.Stderr))
}
