package desk

func chooseCommand() *command {
	return &command{
		name: "choose", args: "FILE --closure NAME",
		does:   "the fasteners of the catalogue that pass everything, ranked",
		flags:  []flag{formatFlag("text", "json"), outFlag(), withFlag(), catalogFlag(), unitsFlag()},
		action: func(in *call) error { return &unusable{says: "choosing is not built yet"} },
	}
}
