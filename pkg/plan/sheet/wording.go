package sheet

import (
	"fmt"
	"math"
	"strconv"

	"burngauge.dev/burngauge/pkg/drawing"
	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/plan"
	"burngauge.dev/burngauge/pkg/report"
)

// wording is everything that a sheet says, in words and in reading order.
type wording struct {
	Title    string
	Facts    []string // machine, report
	Headline string   // what to do
	Lead     string   // a sentence on it, "" for none
	Cautions []string
	Steps    []step
	Again    section // where to fire next
	Expect   table
	Findings []finding // come before the steps: some are to be put right first
}

// section is a heading and the paragraph below it; without words there is none.
type section struct{ Title, Words string }

// step is the work on one mirror.
type step struct {
	Title string
	View  string // how the drawing lies to the machine
	Tasks []task
	Mount mount
}

// task is what to do with one screw: turn it and, when Back is not 0, turn it back
// by that, which takes the play out. Clockwise is positive.
type task struct {
	Mirror, Screw string
	Turns, Back   float64
}

// finding is what the screws cannot cure, or what the readings contradict.
type finding struct{ Text, Evidence, Code string }

// table is what to expect at the stations.
type table struct {
	Title string
	Heads []string
	Rows  []row
	Notes []string
}

// row is one station.
type row struct {
	Cells []string
	State string
}

func newWording(s Sheet) *wording {
	c := &wording{
		Title:    "Screw plan",
		Facts:    []string{"Machine: " + clean(or(s.Plan.Machine, s.Profile.Name))},
		Cautions: cautions(s.Plan.Cautions),
		Steps:    steps(s),
		Again:    again(s),
		Expect:   expect(s),
	}
	if s.Plan.Report != "" {
		c.Facts = append(c.Facts, "Made from the report with the digest "+clean(cut(s.Plan.Report)))
	}
	c.Headline, c.Lead = headline(s, c.Steps)
	for _, f := range s.Plan.Findings {
		c.Findings = append(c.Findings, finding{drawing.Plain(f.Text), drawing.Plain(f.Evidence), clean(f.Code)})
	}
	return c
}

// digestShown is how much of a digest is shown: 64 bits, with which no two reports of a
// workshop are the same by chance.
const digestShown = 16

func cut(digest string) string {
	if letters := []rune(digest); len(letters) > digestShown {
		return string(letters[:digestShown]) + "…"
	}
	return digest
}

func or(text, empty string) string {
	if text == "" {
		return empty
	}
	return text
}

// headline is the plan in a line, and a sentence on it.
func headline(s Sheet, steps []step) (line, lead string) {
	screws := "Turn " + plural(screwCount(s.Plan.Turns), "screw") + " on " + mirrors(steps)
	switch s.Plan.Status {
	case plan.StatusTurn:
		lead = "Do the steps in their order. Each turn counts from where the screw stands now."
		if len(s.Plan.Findings) > 0 {
			lead = "Read the findings before you turn. " + lead
		}
		return screws + ", then fire again.", lead
	case plan.StatusNothing:
		return "Nothing to turn.", "Every station lies within the limit, as far as the readings show. Leave the screws alone."
	case plan.StatusFire:
		return "Fire first at " + list(fireAt(s)) + ", turn nothing yet.", "The readings do not settle which screws to turn."
	}
	line = "Beyond the screws: no turn of the mirrors’ screws brings every station within the limit."
	if len(steps) == 0 {
		return line, "What has to be moved instead stands under findings."
	}
	return line, "Put right what stands under findings first. " + screws + " only when that cannot be done: the steps come as near as screws can."
}

// screwCount counts each screw once.
func screwCount(turns []plan.Turn) int {
	seen := map[[2]string]bool{}
	for _, t := range turns {
		seen[[2]string{t.Mirror, t.Screw}] = true
	}
	return len(seen)
}

// mirrors names those of the steps once each.
func mirrors(steps []step) string {
	var names []string
	seen := map[string]bool{}
	for _, st := range steps {
		name := st.Tasks[0].Mirror
		if !seen[name] {
			names = append(names, clean(name))
		}
		seen[name] = true
	}
	if len(names) == 1 {
		return "mirror " + names[0]
	}
	return "mirrors " + list(names)
}

func cleaned(words []string) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = clean(w)
	}
	return out
}

// steps gathers turns of the same mirror that follow each other.
func steps(s Sheet) []step {
	var out []step
	for _, t := range s.Plan.Turns {
		if n := len(out); n == 0 || !out[n-1].add(t) {
			m := s.Profile.Mirrors[s.Profile.Mirror(t.Mirror)]
			next := step{Title: fmt.Sprintf("Step %d: mirror %s", n+1, clean(t.Mirror)), View: view(m), Mount: newMount(m)}
			next.add(t)
			out = append(out, next)
		}
	}
	return out
}

// add takes a turn into the step, unless it is of another mirror or of a screw
// that is done with: turned there and back, or before another one.
func (st *step) add(t plan.Turn) bool {
	at := screwIndex(t.Screw)
	n := len(st.Tasks)
	switch {
	case n > 0 && st.Tasks[0].Mirror != t.Mirror:
		return false
	case st.Mount.Turns[at] == 0:
		st.Tasks = append(st.Tasks, task{Mirror: t.Mirror, Screw: t.Screw, Turns: t.Turns})
		st.Mount.Turns[at] = t.Turns
		return true
	case st.Tasks[n-1].Screw == t.Screw && st.Tasks[n-1].Back == 0 && t.Turns*st.Tasks[n-1].Turns < 0:
		st.Tasks[n-1].Back = t.Turns
		st.Mount.Back[at] = t.Turns
		return true
	}
	return false
}

// view says where one stands to see the mount as it is drawn.
func view(m machine.Mirror) string {
	return fmt.Sprintf("The mount seen from behind, looking %s. The drawing’s top is %s on the machine.", heading(m.Normal), heading(m.Up))
}

// fireAt are the stations to fire at: all, when the plan names none.
func fireAt(s Sheet) []string {
	at := cleaned(s.Plan.FireNext)
	if len(at) == 0 {
		for _, st := range s.Profile.Stations {
			at = append(at, clean(st.Name))
		}
	}
	return at
}

// again says where to fire next.
func again(s Sheet) section {
	at := fireAt(s)
	switch {
	case s.Plan.Status == plan.StatusFire:
		words := "Fire at " + list(at) + ", one short pulse on fresh tape, photograph the mark, survey the whole set again and ask for the plan again."
		if len(s.Plan.FireNext) > 1 {
			words += " The first one named shows most."
		}
		return section{"Fire next", words}
	case s.Plan.Status == plan.StatusNothing || len(s.Plan.Turns) == 0:
		return section{}
	}
	return section{"Fire again", "Fire again at " + list(at) + ", one short pulse on fresh tape at each. Photograph the marks, survey them, and compare with the table below."}
}

// expect is the table of predictions.
func expect(s Sheet) table {
	u := s.Units
	t := table{Title: "What to expect after the turns", Heads: []string{"station", "left/right " + u.Name(), "up/down " + u.Name(), "from the centre " + u.Name(), "state"}}
	if len(s.Plan.Turns) == 0 {
		t.Title = "Where the spots are expected"
	}
	for _, p := range s.Plan.Predicted {
		radius := u.From(p.RadiusMM)
		t.Rows = append(t.Rows, row{State: clean(p.State), Cells: []string{clean(p.Station),
			report.Side(u.From(p.RightMM), radius, "left", "right"), report.Side(u.From(p.UpMM), radius, "down", "up"),
			report.Format(u.From(math.Hypot(p.RightMM, p.UpMM)), radius), clean(p.State)}})
	}
	t.Notes = []string{"Left, right, up and down are as you face the target with its index mark at the top. The spot is expected within ± of the place stated, in any direction, in 95 of 100 cases."}
	if s.LimitMM > 0 {
		limit := strconv.FormatFloat(u.From(s.LimitMM), 'g', 3, 64) + " " + u.Name()
		t.Notes = append(t.Notes, "Inside: within "+limit+" of the centre with a probability of at least 95 %; outside: with at most 5 %; else borderline.")
	}
	if wide(s) {
		t.Notes = append(t.Notes, fmt.Sprintf("A ± above the limit comes from the screws: until a round given with --past has shown what each really does, its gain over the profile’s is taken as 1 ± %.2g. Borderline then means not yet known; the next marks decide.", plan.GainU))
	}
	return t
}

// wide says whether turns leave it open where a spot will be, whatever its expected place.
func wide(s Sheet) bool {
	for _, p := range s.Plan.Predicted {
		if len(s.Plan.Turns) > 0 && s.LimitMM > 0 && p.RadiusMM > s.LimitMM {
			return true
		}
	}
	return false
}
