package desk

import "placketeer/catalog"

func schemaCommand() *command {
	return &command{
		name:  "schema",
		does:  "the JSON Schema of garment and catalogue files, for editors",
		about: "An editor that knows TOML can complete and check keys with it. In many, this first line of the garment file is enough: #:schema ./garment.schema.json",
		examples: []string{
			"schema --out garment.schema.json",
			"schema --catalog-file --out catalogue.schema.json",
		},
		flags: []flag{
			{name: "catalog-file", kind: boolFlag, doc: "that of catalogue files instead of garment files"},
			outFlag(),
		},
		action: func(in *call) error {
			if args := in.args(); len(args) > 0 {
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
