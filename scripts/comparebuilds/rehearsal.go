package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
)

// levels of the simulated machines, in turn.
var levels = []string{"easy", "worn", "hard"}

// pointerEvery: at every such machine the red pointer is photographed too. Its
// photos take ten times as long to measure.
const pointerEvery = 3

// benchFolder is the simulated machine's folder.
const benchFolder = "bench"

// round is one fire, survey and plan at one machine.
type round struct {
	ctx     context.Context
	build   *build
	scratch string
	name    string // of the machine
	pointer bool
	out     []output
	ended   bool // one of the programs ended with a code that leaves nothing to go on with
}

// rehearsal is the sample of one simulated machine: two rounds, with the turns of
// the first plan between them.
func rehearsal(i int) sample {
	level := levels[i%len(levels)]
	name := fmt.Sprintf("%s machine %d", level, i)
	return sample{name: name, input: "rehearsal " + name, programs: []string{rehearse, burngauge, mirrorplan},
		run: func(ctx context.Context, b *build, scratch string) ([]output, error) {
			// Every level gets its share of pointers: i and i/len(levels) are not in step.
			r := &round{ctx: ctx, build: b, scratch: scratch, name: name, pointer: i/len(levels)%pointerEvery == 0}
			return r.play(level, i)
		}}
}

func (r *round) play(level string, seed int) ([]output, error) {
	err := r.do("new", rehearse, "new", benchFolder, "--level", level, "--seed", fmt.Sprint(seed))
	if err == nil {
		err = r.fire("round-1")
	}
	if err == nil {
		err = r.plan("round-1")
	}
	if err == nil {
		err = r.do("turn", rehearse, "turn", benchFolder, "round-1/plan.json")
	}
	if err == nil {
		err = r.fire("round-2")
	}
	if err == nil {
		err = r.plan("round-2", "--past", "round-1/report.json:round-1/plan.json")
	}
	return r.out, err
}

// goesOn are the exit codes after which the next program has what it needs: done,
// some photos not measured, beyond the screws.
var goesOn = map[int]bool{0: true, 3: true, 5: true}

// do calls a program and keeps its exit code, unless the machine's story has ended.
func (r *round) do(step, program string, args ...string) error {
	if r.ended {
		return nil
	}
	_, code, err := r.build.call(r.ctx, r.scratch, program, args...)
	if err != nil {
		return err
	}
	r.out = append(r.out, exitCode(r.name+", "+step, code))
	r.ended = !goesOn[code]
	return nil
}

// fire photographs the machine's marks and surveys them.
func (r *round) fire(folder string) error {
	fire := []string{"fire", benchFolder, "-o", folder, "--megapixels", "1", "--truth"}
	survey := []string{"survey", folder, "-o", folder + "/report.json"}
	if r.pointer {
		fire, survey = append(fire, "--pointer"), append(survey, "--mark", "both")
	}
	if err := r.do(folder+", fire", rehearse, fire...); err != nil || r.ended {
		return err
	}
	photos, err := fired(filepath.Join(r.scratch, folder), r.name+", "+folder, kindFired, kindFiredTruths)
	if err != nil {
		return err
	}
	r.out = append(r.out, photos...)
	if err := r.do(folder+", survey", burngauge, survey...); err != nil || r.ended {
		return err
	}
	return r.keep(kindReports, folder+"/report.json")
}

// plan makes the plan of a round: all screws at once, which is followed, and the
// next step by hand.
func (r *round) plan(folder string, more ...string) error {
	plan := append([]string{"plan", folder + "/report.json", "--machine", benchFolder + "/machine.yaml"}, more...)
	for _, style := range []string{"all", "walk"} {
		file := folder + "/plan.json"
		if style != "all" {
			file = folder + "/plan-" + style + ".json"
		}
		args := append(append([]string{}, plan...), "--style", style, "-o", file)
		if err := r.do(folder+", plan "+style, mirrorplan, args...); err != nil || r.ended {
			return err
		}
		if err := r.keep(kindPlans, file); err != nil {
			return err
		}
	}
	return nil
}

// keep takes a JSON file that a program wrote.
func (r *round) keep(kind, file string) error {
	text, err := os.ReadFile(filepath.Join(r.scratch, file))
	if err != nil {
		return err
	}
	r.out = append(r.out, output{Kind: kind, Name: r.name + ", " + file, JSON: true, Text: string(text)})
	return nil
}
