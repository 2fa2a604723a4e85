# Orders are found, shown with their reasons, and walked like any text; codes and formats.
. "$(dirname "$0")/lib.sh"

cat >suit.ward <<'WARD'
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
  in any safe order
    take off coverall using roll down from inside
    act "Open the window."
      known as airing
    take off plastic apron using break the loop
  end order
  finish as clean exit
end phase

rule R1 air before anything comes off
  before each wearer takes off any item
  require wearer does airing
  severity major
  because "It matters here."
  source common practice
end rule
WARD
cp suit.ward before.ward
runs 0 "suit.ward:23  3 lines in any safe order" "1  act" "(line 25)" "2  take off plastic apron" "3  take off coverall" "allow no other of 6 orders" \
  "orders: R1 air before anything comes off" "because It matters here." "order: coverall" "no advice" "licensed practice" -- order suit.ward --today 2031-01-15
is_true "the file is as it was" cmp -s before.ward suit.ward
runs 0 "note F118 suit.ward:23" "lines 25, 27, 24" "0 errors" -- check suit.ward --today 2031-01-15
runs 0 '"outcome": "found"' '"allowed": 1' '"orders": 6' '"rule": "R1"' '"25"' -- order suit.ward --format json --today 2031-01-15

# Written in the order that was found, the check says the same.
sed -e '/in any safe order/d' -e '/end order/d' -e '/take off coverall/d' -e '/take off plastic/a\  take off coverall using roll down from inside' suit.ward >written.ward
runs 0 "0 errors" -- check written.ward --today 2031-01-15

# Two rules that no order keeps together are named; without one of them there is an order.
cat >>suit.ward <<'WARD'

rule R2 air last
  before each wearer does airing
  require wearer takes off coverall
  severity major
  because "The draught lifts what lies on it."
  source common practice
end rule
WARD
runs 1 "No order of these lines keeps these rules together" "R1 air before anything comes off" "R2 air last" -- order suit.ward --today 2031-01-15
runs 1 "error F116" "R1 and R2 cannot both be kept, though each alone can" "error R101" -- check suit.ward --today 2031-01-15
runs 1 '"outcome": "none"' -- order suit.ward --format json --today 2031-01-15

# The card has the lines in the order that was found.
runs 0 -- print before.ward --to papers --as xhtml --what card --today 2031-01-15
is_true "one card was printed" test "$(ls papers | wc -l)" -ge 1
sed 's/<[^>]*>/ /g' papers/*.html | tr -s '\n ' ' ' >card.txt
is_true "the window comes first, the coverall last" grep -q "the window 2 TAKE OFF the plastic apron .* 3 TAKE OFF the coverall" card.txt

# What every order breaks is mended by one line more, which finds its place by itself.
sed -e 's/require wearer does airing/require wearer disinfects hands/' before.ward >unclean.ward
runs 1 "R1 is broken in every order" -- check unclean.ward --today 2031-01-15
runs 0 "disinfect" "none is left" -- mend unclean.ward --today 2031-01-15

runs 0 "nothing here stands in any safe order" -- order written.ward --today 2031-01-15
runs 3 "cannot be read" -- order missing.ward
sed 's/take off coverall/take off coverlal/' before.ward >misspelt.ward
runs 1 "no order was looked for" -- order misspelt.ward --today 2031-01-15
finished
