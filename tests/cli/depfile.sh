# --depfile: a build engine runs a check again only when a file changed that the check had read. Read back by ninja.
. "$(dirname "$0")/lib.sh"

cat >house.ward <<'WARD'
stepward 1 library
document
  title   "House"
  number  H-1
  version 1.0
end document
kind apron
WARD
small_protocol | sed '/^kind apron$/d; s/^zone bay$/use library "house.ward" version 1.0\n&/' >"bay one.ward"
small_protocol >other.ward

# The target first, then every file once; nothing of what is built in.
runs 0 "" -- check "bay one.ward" --format sarif -o bay.sarif --depfile bay.d
is_true "the rule names what was read" test "$(cat bay.d)" = 'bay.sarif: bay\ one.ward house.ward'
is_true "the result is in its file" grep -q '"version": "2.1.0"' bay.sarif
runs 0 "" -- check other.ward "bay one.ward" --depfile stamp.d
is_true "without a result the rule is for what it is named after" test "$(cat stamp.d)" = 'stamp: other.ward bay\ one.ward house.ward'

# Codes stay; findings do not keep the rule from being written, a wrong use does.
sed 's/take off plastic apron/put on plastic apron/' other.ward >wrong.ward
runs 1 "" -- check wrong.ward -o wrong.txt --depfile wrong.d
is_true "the findings are in the file" grep -q '^error ' wrong.txt
is_true "the rule is there all the same" test "$(cat wrong.d)" = 'wrong.txt: wrong.ward'
runs 3 "" -- check nowhere.ward -o nowhere.txt --depfile nowhere.d
runs 3 "" -- check other.ward -o no/such/folder/other.txt
runs 2 "" -- check other.ward --only nobody -o only.txt --depfile only.d
is_true "a wrong use writes nothing" test ! -e only.txt -a ! -e only.d
runs 2 "cannot stand in a --depfile" -- check other.ward --depfile 'back\slash.d'

cat >build.ninja <<NINJA
rule check
  command = '$stepward' check \$in -o \$out --depfile \$out.d
  depfile = \$out.d
  deps = gcc
build bay.txt: check bay\$ one.ward
build other.txt: check other.ward
NINJA
is_true "ninja runs both checks" ninja
is_true "nothing changed, nothing is checked" sh -c 'ninja | grep -q "no work to do"'
sleep 1
touch house.ward
is_true "the check is run again that had read the file" sh -c 'ninja -n -v | grep -q "bay.txt" && ! ninja -n -v | grep -q "other.txt"'

finished
