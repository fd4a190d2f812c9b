package rules

func within(p *Planned, measuring string) {}
