package main

const surveyLong = `Measure the photos of one round of test fires and make its report: the table of
stations, one verdict, and with -o a JSON file that other programs read.

A photo's station is read from its file's name: "Rear Left (2).JPG", "rear_left.jpeg",
"BackLeft.heic" and "IMG_1234 RL.jpg" are all of rear-left. Nothing is guessed: a
photo whose name holds no station, or parts of two, is listed with the reason; rename
it or give --assign STATION=PHOTO. Files that are no photos, hidden files, overlays
and sub-folders are passed over.

Of several photos of one station the better is taken: one that was measured before
one that was refused, then the one with the smaller uncertainty, whatever it says of
the mark. The others stay in the report. When the times taken show that stations were
photographed again in turn, the folder holds several rounds: the report is of the
latest, which is said, and --round N reports another. Photos without a time cannot be
sorted into rounds: keep each round in a folder of its own.

The verdict: inside when every expected station is inside the limit, outside when one
is outside, otherwise borderline; incomplete while one is missing.

A file job.yaml in the folder may hold the job's details: reference, machine,
technician, site, notes, and also target, limit_mm and stations. Flags override it.

With --watch the folder is watched: each photo is measured as it lands, its line is
printed, and the report is kept current. A photo that is still being copied is waited
for. Ctrl-C ends, with exit code 0. Before you fire: burngauge help cautions

Memory stays under 400 MB however many photos there are, when none is larger than
16 megapixels. The exit code is 3 when a photo was not measured or has no station.`

const surveyExample = `  One round, five photos named by station:
    burngauge survey photos/2026-09-02 -o photos/2026-09-02/report.json

  A photo that the phone named itself, and a spreadsheet:
    burngauge survey photos --assign middle=IMG_0042.jpg --csv corners.csv

  The red pointer too: where beam and pointer part ways, at each station:
    burngauge survey photos --mark both -o photos/report.json

  Three stations of one's own:
    burngauge survey photos --stations inlet,mirror-2,head

  While taking the photos, in the folder that the phone copies into:
    burngauge survey --watch ~/phone/today -o ~/phone/today/report.json

  One line for each mark of a whole archive, for another program:
    burngauge survey --ndjson archive > marks.ndjson`
