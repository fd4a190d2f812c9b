package sheet

// grades are the tables of the lengths that the file gives with a grade: what
// each comes to in every size that is shown, and by how much it grows from the
// size before.
func (s *Garment) grades() []any {
	g := s.plan.Garment
	list := g.Grades()
	if len(list) == 0 {
		return nil
	}
	t := &table{ID: "grades", BySize: true, Caption: "Graded lengths, and by how much they grow from the size before", Head: []string{"length"}}
	for _, i := range s.picked {
		t.Head = append(t.Head, g.Sizes[i])
	}
	for _, l := range list {
		lengths, steps := []cell{words(l.Closure + " " + l.Key)}, []cell{words("grade")}
		for _, i := range s.picked {
			now := l.Lengths.At(i).V
			lengths = append(lengths, cell{Text: now.ShortPlace(s.unit), Value: exact(MM(now))})
			if i == 0 {
				steps = append(steps, words(""))
				continue
			}
			by := now - l.Lengths.At(i-1).V
			sign, minus := "+", ""
			if by < 0 {
				sign, minus = "−", "-"
			}
			steps = append(steps, cell{Text: sign + by.Abs().ShortPlace(s.unit), Value: minus + exact(MM(by.Abs()))})
		}
		t.Rows = append(t.Rows, lengths, steps)
	}
	return []any{t}
}
