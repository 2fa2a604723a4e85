# What the verdict says, and what it never says.
. "$(dirname "$0")/lib.sh"

example=$tree/examples/aldermoss-entry.ward
runs 0 "checked against" "complete" "variants," "states," "transitions," "paths, longest" "assumptions:" "ordinary hands" \
  "0 errors," -- check "$example" --today 2030-11-01
says_not " safe"
runs 0 "looked at runs without interruptions only" -- check "$example" --today 2030-11-01 --no-interruptions
says_not "checked"
runs 1 "not checked to the end" "F801" -- check "$example" --today 2030-11-01 --limit 50
says_not "checked against"
runs 0 "read and parse" "resolve" "walk" -- check "$example" --today 2030-11-01 --timings
runs 0 '"checked": true' '"complete": true' '"assumptions"' -- check "$example" --today 2030-11-01 --format json
says_not "seconds"
runs 0 '"seconds_walk"' -- check "$example" --today 2030-11-01 --format json --timings
runs 0 '"set_aside": []' '"local_changes": []' '"answered_slips": []' '"pairs_with": []' -- check "$example" --today 2030-11-01 --format json
runs 0 "" -- check "$example" --today 2030-11-01 --color always

# What a rule does here is told when it is asked for, and only of rules that there are.
runs 0 "but for what HW04 asks, it would break here" "story" -- check "$example" --today 2030-11-01 --witness HW04
says_not "HW04 holds"
runs 0 '"code": "R206"' -- check "$example" --today 2030-11-01 --witness hw04 --format json
runs 2 "perhaps HW04 is meant" -- check "$example" --today 2030-11-01 --witness HW40
runs 1 "review" -- check "$example" --today 2040-01-01

# Colour only where it is asked for.
small_protocol | sed 's/take off plastic apron/take off plastic apro/' >misspelt.ward
escape=$(printf '\033')
runs 1 "$escape" -- check misspelt.ward --color always
runs 1 "" -- check misspelt.ward
says_not "$escape"

# Several files: one answer each, in their order; an array in JSON.
small_protocol >small.ward
runs 1 "" -- check small.ward misspelt.ward --format json
is_true "several files give a JSON array" /usr/bin/python3 -c 'import json; a = json.load(open("answer.out")); assert len(a) == 2 and a[1]["counts"]["error"] == 1'
finished
