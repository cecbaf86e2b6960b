package plan

func (p *planner) walkOn() string      { return StatusTurn }
func (p *planner) findings() []Finding { return nil }
func Cautions() []string               { return nil }
func (p *planner) tellMost(m []int) (l []string) {
	for _, k := range m {
		l = append(l, p.response.Stations[k])
	}
	return l
}
