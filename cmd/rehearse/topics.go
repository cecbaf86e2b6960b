package main

import (
	"burngauge.dev/burngauge/pkg/caution"
	"burngauge.dev/burngauge/pkg/terminal/command"
)

// reminder stands wherever someone fires or turns a screw, or is led to.
var reminder = "This is a simulation. On a real machine:\n" +
	caution.Reminder(caution.Firing|caution.Turning, "rehearse help safety", command.HelpWidth)

var safetyText = `Before you fire or turn a screw on a real machine

  rehearse only simulates. What it lets you do without harm burns and blinds on a real
  machine. These lines do not replace local rules, the maker's instructions or your
  laser safety officer: where they differ, follow those.

` + caution.Text(command.HelpWidth)

const exitCodesText = `Exit codes

    0  done
    1  another failure, such as a bench that cannot be read
    2  wrong usage, profile, plan or target, or a turn beyond a screw's travel
    6  could not write a file or the results
  130  interrupted

Results go to standard output, everything else to standard error.`
