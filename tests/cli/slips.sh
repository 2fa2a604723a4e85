#!/bin/sh
# Slips from the command line: what scripts and spreadsheets get, and what is refused.
. "$(dirname "$0")/lib.sh"

exit_of_library=$tree/stdlib-procedures/protocols/basic-taking-off.ward

# Eyes, nose and mouth before hands are clean is what published basic sheets are known for: hands that are not rubbed reach them.
runs 0 "Weak points" "Weak points: 13, from 16 slips that come to harm" "EYES, NOSE OR MOUTH" "  1. left out: wearer disinfects bare hands (8)" "here: bare hands may bring dirt to the face while handling goggles" "not seen: nobody else watches" "the same harm by another slip, on a run of its own: too early: wearer takes off the goggles or face shield (9), with (8) not done yet" \
  "local policy, product labels and licensed practice decide" -- slips "$exit_of_library"
says_not "safe"
runs 0 "pairs of slips come to harm where neither does alone" -- slips "$exit_of_library" --at-once 2
runs 0 "act" "stop: obvious" "severity and how often are for those who work there" -- slips "$exit_of_library" --form hfmea

# Read back by software that knows nothing of this project: as many rows in each form, no cell out of place.
for form in slips hfmea iec-60812; do
  runs 0 -- slips "$exit_of_library" --form $form --format csv -o $form.csv
  runs 0 -- slips "$exit_of_library" --form $form --format json -o $form.json
  is_true "$form is read back" /usr/bin/python3 - $form.csv $form.json <<'PYTHON'
import csv, json, sys
rows = list(csv.reader(open(sys.argv[1], newline="")))
assert len(rows) > 20 and all(len(row) == len(rows[0]) for row in rows), "ragged"
made = json.load(open(sys.argv[2]))
told = made.get("slips") or made["failure_modes"]
assert made["complete"] is True
left_out = sum(row["outcome"] == "not in the model" for row in told) if "slips" in made else 0
assert len(told) == len(rows) - 1, (len(told), len(rows))
if "failure_modes" in made:
    column = rows[0].index("failure mode number") if "failure mode number" in rows[0] else rows[0].index("item")
    assert len({row[column] for row in rows[1:]}) == len(rows) - 1, "a number twice"
PYTHON
done

# The same bytes, however many ran beside it.
"$stepward" slips "$exit_of_library" --at-once 2 --format json >first.json
"$stepward" slips "$exit_of_library" --at-once 2 --format json >second.json
is_true "the same twice" cmp first.json second.json

# Numbers: only when asked for, with their source and the sentence that they compare drafts.
runs 0 "by THERP-1983, moderate dependence" "They serve to compare drafts, not to predict infections." "from memory" "Against the older draft: 1 times" -- \
  slips "$exit_of_library" --numbers THERP-1983 --against "$exit_of_library"
runs 0 "the author's" -- slips "$exit_of_library" --numbers THERP-1983 --figure "left out, ticked, short list=0.002/3"
runs 0 "Chance per doing of the procedure, on the graph of its runs" "any harm" "three slips or more before anything shows: at most" -- slips "$exit_of_library" --numbers THERP-1983
runs 2 "are 1.5 together, more than 1" -- slips "$exit_of_library" --numbers THERP-1983 --something-to-see 1 --figure "left out, ticked, short list=0.5/3" --figure "check misses, looks for what is in writing=1/1"
runs 2 'no set of figures is called "Our own"' "THERP-1983" -- slips "$exit_of_library" --numbers "Our own"
runs 2 "which lines and checks need" -- slips "$exit_of_library" --numbers HEART-1986
runs 2 "is no chance" -- slips "$exit_of_library" --numbers THERP-1983 --something-to-see 1.2
runs 2 "is no figure" -- slips "$exit_of_library" --numbers THERP-1983 --figure "left out"
runs 2 "would put the highest below the middle" -- slips "$exit_of_library" --numbers THERP-1983 --figure "left out, ticked, short list=0.002/0.3"
runs 2 "--numbers goes with --format text and json" -- slips "$exit_of_library" --numbers THERP-1983 --format csv
runs 0 -- slips "$exit_of_library" --numbers THERP-1983 --format json -o numbers.json
is_true "the numbers are the last member" /usr/bin/python3 -c 'import json; n = json.load(open("numbers.json"))["numbers"]; assert n["set"] == "THERP-1983" and n["variants"] and n["figures"]'
is_true "and hold a chance of each harm for each variant" /usr/bin/python3 -c '
import json
made = json.load(open("numbers.json"))
graph = made["numbers"]["on_graph"]
assert [g["variant"] for g in graph] == made["variants"]
for g in graph:
    assert set(g["by_harm"]) == {"face", "skin or clothing", "clean side", "protection", "left open"}
    assert all(0 <= least <= most <= 1 for least, most in [g["any"], *g["by_harm"].values()]) and g["any"][1] > g["three_or_more"] > 0
'

# Somebody answers for a slip: told apart until that day, and among what is open again behind it.
{
  sed "/^pairs with/d" "$exit_of_library"
  printf 'answer to slip left out, overlooked at rub after the gloves in "Gloves"\n  reason "A second rub hangs at the mirror."\n  agreed by "Ann Other", "ward lead"\n  ends on 2031-06-01\nend answer\n'
} >answered.ward
runs 0 "1 of those that come to harm is answered by the author" "until 2031-06-01, because: A second rub hangs at the mirror." \
  "S201 answered.ward:" 'overlooked at "rub after the gloves" comes to no harm here' -- slips answered.ward --today 2031-06-01
runs 0 "OPEN AGAIN: answered by Ann Other, ward lead, over since 2031-06-01" -- slips answered.ward --today 2031-06-02
says_not "Answered by the author"
runs 0 "D124" "left out, overlooked at “rub after the gloves” in “Gloves”, until 2031-06-01 (over)" -- check answered.ward --today 2031-06-02
"$stepward" slips answered.ward --today 2031-06-01 --format json >answered.json 2>told.txt
"$stepward" slips answered.ward --today 2031-06-01 --format csv -o answered.csv 2>>told.txt
is_true "told beside both" test "$(grep -c "S201" told.txt)" = 2
is_true "json and csv say the same of it" /usr/bin/python3 - answered.csv answered.json <<'PYTHON'
import csv, json, sys
rows = list(csv.DictReader(open(sys.argv[1], newline="")))
made = json.load(open(sys.argv[2]))
by_row = [row for row in made["slips"] if "answer" in row]
assert [row["answered"] for row in rows if row["answered"]] == ["until 2031-06-01"] * len(by_row) and by_row
assert all(row["outcome"] == "harm" and not row["open"] for row in by_row)
assert made["answers"][0]["answers"] == len(by_row) and made["answers"][0]["not_needed"][0]["slip"] == "overlooked"
PYTHON

# What cannot be tried.
runs 2 "up to three at once" "and not 4" -- slips "$exit_of_library" --at-once 4
runs 2 "up to three at once" -- slips "$exit_of_library" --at-once 0
runs 2 "up to three at once" -- slips "$exit_of_library" --at-once two
runs 1 "has no phases" -- slips "$tree/examples/aldermoss-library.ward"
runs 3 "nowhere.ward" -- slips nowhere.ward
runs 2 -- slips "$exit_of_library" --only "no such outfit"
runs 1 "NOT every slip was followed to its end" "limit of 50 states" "the runs without slips alone are more" -- slips "$exit_of_library" --limit 50
# Far enough for the ordinary runs, and not for three slips: it says how far it came, and where nobody reads the table too.
"$stepward" slips "$exit_of_library" --at-once 3 --limit 1300 --format json -o short.json 2>told.txt
is_true "a limit is told on standard error" grep -q "limit of 1300 states was reached (--limit).*sets of three that begin at" told.txt
is_true "and in the json" /usr/bin/python3 -c 'import json; d = json.load(open("short.json")); by = d["reached"]["by_slips_a_run"]; assert not d["complete"] and [b["slips"] for b in by] == [1, 2, 3] and any(b["places_done"] < b["places"] for b in by)'

# Three at once: sets of three come after the pairs, and hold none of them.
runs 0 "sets of three slips come to harm where no one and no two of them do" "Pairs:" "up to three slips a run" -- slips "$tree/stdlib-procedures/protocols/contact-taking-off.ward" --at-once 3
"$stepward" slips "$tree/stdlib-procedures/protocols/contact-taking-off.ward" --at-once 3 --format json >three.json
is_true "some, and none of them holds a pair" /usr/bin/python3 -c 'import json; d = json.load(open("three.json")); three = [{t["first"], t["second"], t["third"]} for t in d["triples"]]; assert three and not any({p["first"], p["second"]} <= t for p in d["pairs"] for t in three)'
small_protocol | sed 's/worn on torso/worn on bare hands/; s/wearing plastic apron//' >broken.ward
runs 1 "no slip was tried: what was found has to be mended first" -- slips broken.ward
is_true "nothing was written" test ! -e broken.csv
finished
