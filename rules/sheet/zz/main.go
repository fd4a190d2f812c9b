package main

import (
	"fmt"
	"os"
	"placketeer/catalog"
	"placketeer/rules"
	"placketeer/rules/sheet"
)

func main() {
	var ps []*rules.Planned
	for _, a := range os.Args[3:] {
		g, err := catalog.Load(a, catalog.Options{})
		if err != nil {
			fmt.Println(err)
			os.Exit(3)
		}
		ps = append(ps, rules.Plan(g))
	}
	o := sheet.Options{Format: os.Args[2], UTF8: true}
	f := sheet.Check
	if os.Args[1] == "spec" {
		f = sheet.Spec
	}
	if err := f(os.Stdout, ps, o); err != nil {
		fmt.Println(err)
	}
}
