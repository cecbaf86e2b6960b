package main

// caution stands wherever someone is told to fire or to turn.
const caution = `This is a simulation. On a real machine follow its maker's instructions and local
rules: covers closed where the machine allows it, nobody's face or hands near the
beam's path, eyewear for 10 600 nm, source off before you reach in.
(rehearse help safety)`

const safetyText = `Before you fire or turn a screw on a real machine

  rehearse only simulates. What it lets you do without harm burns and blinds on a
  machine. These lines do not replace local rules, the maker's instructions or your
  laser safety officer: where they differ, follow those.

  Adjusting with open covers is service: for trained people, as the maker instructs,
  in a cleared and marked place, with others kept out. Restore and test every
  interlock afterwards, and never defeat one for a test mark: mark with the covers
  closed wherever the machine allows it. With a cover open, a machine that is safe
  when closed is an open Class 4 laser, with all that this demands.
  The beam cannot be seen. It burns eye and skin at once, straight from the tube, off
  a mirror or off a stray surface: lowest power and shortest pulse that leave a mark.
  Keep face, hands and sleeves away from the beam's path. Turn screws with the source
  switched to safe. Switch to safe and wait before you reach in to place or remove a
  target; never hold one.
  Everyone near an open machine wears eyewear marked for 10 600 nm. Ordinary glasses
  do not protect, and eyewear is the last barrier, not the first.
  The tube's supply carries lethal high voltage: no hands near it unless the mains is
  isolated and the charge is gone. Never fire without coolant flowing.
  Tape, paper and plastic burn: put something fire-proof behind the target, have an
  extinguisher at hand, and stay until all is cold.
  Run the extraction. No vinyl or other chlorinated tape: its smoke is poisonous.`

const exitCodesText = `Exit codes

    0  done
    1  another failure, such as a bench that cannot be read
    2  wrong usage, profile, plan or target, or a turn beyond a screw's travel
    6  could not write a file or the results
  130  interrupted

Results go to standard output, everything else to standard error.`
