package rules

// Step is the working of one number in plain words.
type Step struct {
	Topic   string // what it is the working of: one of the topics
	Says    string
	Sources []string
}

// Topics of the working of a closure, in their order.
const (
	TopicHole = "hole"
)

// Working is the working of every number of closure i. It is made for
// output only: Plan does not pay for it.
func (p *Planned) Working(i int) []Step { return nil }
