package desk

import (
	"placketeer/catalog"
	"placketeer/catalog/text"
)

func schemaCommand() *command {
	return &command{
		name:  "schema",
		args:  "[output [COMMAND]]",
		does:  "the JSON Schema of garment and catalogue files, for editors",
		about: "An editor that knows TOML can complete and check keys with it. In many, this first line of the garment file is enough: #:schema ./garment.schema.json. With the word output and a command it is the schema of what that command writes with --format json, for programs that read it; without a command that of check and spec. Its version is in every object: a key may be added to it, and one that goes or means something else makes it another.",
		examples: []string{
			"schema --out garment.schema.json",
			"schema --catalog-file --out catalogue.schema.json",
			"schema output --out output.schema.json",
			"schema output compare",
		},
		flags: []flag{
			{name: "catalog-file", kind: boolFlag, doc: "that of catalogue files instead of garment files"},
			outFlag(),
		},
		action: func(in *call) error {
			switch args := in.args(); {
			case len(args) == 0:
			case args[0] == "output" && in.on("catalog-file"):
				return usagef("output is the schema of what is written, --catalog-file that of a file that is read: take one of them").write("%s schema output", Program)
			case args[0] == "output" && len(args) > 2:
				return usagef("one command at a time, but %d are given", len(args)-1).write("%s schema output %s", Program, text.Shell(args[1]))
			case args[0] == "output":
				return in.outputSchema(append(args, "check")[1])
			case text.Nearest(args[0], []string{"output"}) != "":
				return usagef("there is no schema of %q", args[0]).write("%s schema output", Program)
			default:
				return usagef("schema takes no files, but %q is given", args[0]).write("%s schema --out garment.schema.json", Program)
			}
			cat, err := catalog.StockCatalog()
			if err != nil {
				return err
			}
			data, err := cat.GarmentSchema()
			if in.on("catalog-file") {
				data, err = cat.FileSchema()
			}
			if err != nil {
				return err
			}
			return in.deliver(data)
		},
	}
}
