package plan

// UsualLap is the side of the wearer that usually lies on top.
func UsualLap(cutFor string) string {
	if cutFor == "women" {
		return "right"
	}
	return "left" // unisex mostly as men's
}
