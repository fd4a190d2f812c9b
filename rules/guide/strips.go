package guide

const stripMost = 63.0

func strips(parts []*opening, f *faces, on *paper) ([]*sheet, []string) { return nil, nil }
