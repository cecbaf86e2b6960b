package main

import (
	"burngauge.dev/burngauge/pkg/caution"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// reminder stands wherever someone is told to fire or to turn.
const reminder = `This is advice and commands nothing. The machine maker's instructions, local rules and
your laser safety officer come first; work with open covers is for trained people.
Source switched to safe before you touch a screw; eyewear for 10 600 nm; nobody's face
or hands near the beam's path. (mirrorplan help safety)`

var safetyText = `Before you fire or turn a screw

  mirrorplan gives advice and commands no machine. These lines do not replace local
  rules, the maker's instructions or your laser safety officer: where they differ,
  follow those.

` + caution.Text(command.HelpWidth)

const exitCodesText = `Exit codes

    0  done: there is a plan, also when it says that nothing is to be turned, or where
       to fire before anything is
    1  another failure
    2  wrong usage, machine profile, report or plan
    5  beyond the screws: no plan reaches every station; what is known is told all the same
    6  could not write a file or the results
  130  interrupted

Results go to standard output, everything else to standard error.`

const findingsText = `What the findings mean

  A finding is what no mirror screw can cure, or what the readings contradict. Each
  comes with its evidence: the numbers that it rests on.

  fourth-corner      three corners lead to a place for the spot at the fourth, and it is
                     not there: the error grows with x times y. The gantry is twisted or
                     not square to the bed; that is cured at the gantry.
  curved-rail        the middle does not lie between the corners: a rail is bowed, or
                     the head rocks on its way.
  constant-offset    the same offset everywhere, which tilting mirrors does not cure
                     well: the tube, a mirror's mount or the head has to be moved. The
                     finding says which way and how far. Move one of them before any
                     screw is turned.
  clipped            a mark's straight side says that a mirror's edge or an aperture
                     cuts into the beam; its middle is pulled, and counts for less.
  pointer-parted     the red dot has left the beam: trust the burns.
  travel-used-up     a screw comes to the end of its travel.
  screw-gain         past rounds show a screw that moves the spots more or less than the
                     profile says: a worn or another thread, or a wrong length. The plan
                     takes it into account; mirrorplan learn keeps it.
  round-contradicts  what came of a past round does not fit its plan with any likely
                     gain of its screws: another screw was turned, the turns were not
                     done or done twice, or something is loose. Nothing is learnt from
                     it.
  station-unknown    the report has a station that the profile does not know.
  beyond-the-screws  no turns bring every station within the limit (exit code 5).

  A cure at the tube, a mount or the gantry is service on an open machine:
  mirrorplan help safety.`
