package rehearsal_test

import (
	"fmt"

	"burngauge.dev/burngauge/pkg/machine"
	"burngauge.dev/burngauge/pkg/rehearsal"
)

// A closed loop without photos: see the spots, turn a screw, see what came of it.
func ExampleBench() {
	bench, err := rehearsal.NewBench(machine.Default(), 7, rehearsal.Easy)
	if err != nil {
		fmt.Println(err)
		return
	}
	show := func() {
		for _, s := range bench.Spots()[:2] {
			fmt.Printf("%s: %.2f right, %.2f up\n", s.Station, s.RightMM, s.UpMM)
		}
	}
	show()
	if err := bench.Turn("2", "A", -0.05); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("mirror 2, screw A, 0.05 turn anticlockwise:")
	show()
	// Output:
	// rear-left: 0.91 right, -1.39 up
	// front-left: 1.50 right, -1.99 up
	// mirror 2, screw A, 0.05 turn anticlockwise:
	// rear-left: 1.06 right, -1.16 up
	// front-left: 2.17 right, -1.04 up
}
