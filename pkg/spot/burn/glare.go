package burn

// isGlared says whether shine beside the mark hides its edge on one side, or lays
// a veil over it. edgeU is the uncertainty of the mark's edge, mm per axis.
func (d *darkness) isGlared(edgeU float64) bool {
	log, set := d.log, d.set
	return log.Above("burn.MostShine", d.shine(set.ShineMM), set.MostShine, "refused: glare") ||
		log.Above("burn.VeiledEdgeMM", edgeU, set.VeiledEdgeMM, "a veil of light farther off is looked for") &&
			log.Above("burn.MostVeil", d.shine(set.VeilMM), set.MostVeil, "refused: glare")
}

// shine is the share of the mark's surroundings, so many mm wide, that is burnt
// out in all colours; 0 when the tape itself is. Printed lines may be white.
func (d *darkness) shine(within float64) float64 {
	bright, n := 0, 0
	for k, r := range d.fromCore() {
		if r == 0 || r*d.Step > within {
			continue
		}
		x, y := d.Centre(k)
		if _, _, line := d.print.LineAt(x, y); line {
			continue
		}
		n++
		if d.Colour[0][k] > d.set.BurntOut && d.Colour[1][k] > d.set.BurntOut && d.Colour[2][k] > d.set.BurntOut {
			bright++
		}
	}
	share := float64(bright) / float64(max(n, 1))
	if d.log.Above("burn.TapeBurntOut", share, d.set.TapeBurntOut, "the tape itself is burnt out: no shine") {
		return 0
	}
	return share
}
