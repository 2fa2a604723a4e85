# Mends are shown and never made; codes, formats, and what is refused.
. "$(dirname "$0")/lib.sh"

cat >covered.ward <<'WARD'
stepward 1 protocol

document
  title   "Suit off"
  number  ASH-01
  version 1.0
end document

use library standard "layered-equipment"
use library standard "team"
use library standard "disinfectants"

people
  wearer begins in exit area wearing scrubs, coverall, plastic apron
  wearer acts unless a line names someone else
end people

endings
  clean exit is normal
end endings

phase "Suit off"
  take off coverall using roll down from inside
  take off plastic apron using break the loop
  finish as clean exit
end phase
WARD
cp covered.ward before.ward
runs 0 "error P401 covered.ward:23" "move line 23 in front of line 25" "   23 -   take off coverall" "none is left" "no step more" "interruptions included: 0 errors" \
  "No file was changed" "licensed practice" -- mend covered.ward --today 2031-01-15
says_not "safe"
is_true "the file is as it was" cmp -s before.ward covered.ward

# Written as it is shown, nothing is left to mend.
sed '23d' covered.ward | sed '23a\  take off coverall using roll down from inside' >mended.ward
runs 0 "0 errors" -- check mended.ward --today 2031-01-15
runs 0 "nothing in the steps of mended.ward has to be mended" -- mend mended.ward --today 2031-01-15

runs 0 -- mend covered.ward --format json --today 2031-01-15
/usr/bin/python3 - answer.out <<'PYTHON' || fail "the JSON does not hold the mend"
import json, sys
found = json.load(open(sys.argv[1]))
summary = found["summary"]
assert [f["code"] for f in found["findings"]] == ["P401"]
assert summary["applied"] is False and summary["tried"] > 0 and summary["mends"][0]["errors_left"] == 0
change = summary["changes"][0]
assert (change["what"], change["first_line"], change["last_line"], change["before_line"]) == ("move", 23, 23, 25)
assert change["lines"] == ["  take off coverall using roll down from inside"]
PYTHON

# What no change of steps clears is told, with what was tried.
sed -e 's/plastic apron$/goggles/' -e '/take off plastic/d' -e 's/take off coverall.*/observer takes off goggles of wearer using strap from behind/' \
  -e 's/^  wearer acts/  observer begins in exit area wearing scrubs, inner gloves\n  observer ends dressed, continue with ASH-02\n&/' -e 's/is normal/is normal\n    wearer wears coverall/' covered.ward >observer.ward
runs 1 "error P301" "no mend was found" "tried" -- mend observer.ward --today 2031-01-15

# Files that cannot be walked are refused.
runs 3 "there is no such file" -- mend nowhere.ward
printf 'stepward 1 protocol\nphase "x"\n' >broken.ward
runs 1 "no mend was looked for" "by hand" -- mend broken.ward
printf 'stepward 1 library\n\ndocument\n  title "A"\n  number B\n  version 1\nend document\n' >shelf.ward
runs 1 "this file has no steps to mend" -- mend shelf.ward
runs 2 "--limit" -- mend covered.ward --limit 0
runs 2 "2031-02-30" -- mend covered.ward --today 2031-02-30
finished
