#!/bin/sh
# A protocol of one's own, begun from every protocol of the library: it checks without an error as it stands, and prints.
. "$(dirname "$0")/lib.sh"

names=$("$stepward" new | awk '$1 == "stepward" && $2 == "new" { print $3 }')
is_true "there are at least fourteen protocols to begin from" [ "$(echo "$names" | wc -l)" -ge 14 ]
for name in $names; do
  runs 0 "$name/$name.ward" "It is a draft" -- new "$name" --to "$name" --title "Ours: $name" --number OUR-01
  runs 0 "0 errors" -- check "$name/$name.ward" --today 2031-03-15
done

# A copy that sends its readers to itself, or to the copy beside it, names these; what stays in the library is told with its line.
runs 0 "Readers are still sent to documents of the library" "sent/hand-rub.ward, line 49: STD-PR-02 (Hand wash)" -- new hand-rub --to sent --number OUR-01
says_not "STD-PR-01 ("
is_true "the copy goes on with itself" grep -q "begin again is emergency, continue with OUR-01$" sent/hand-rub.ward
is_true "only a remark names the library's own number" test "$(grep -v '^ *#' sent/hand-rub.ward | grep -c STD-PR-01)" = 0
runs 0 "0 errors" -- check sent/hand-rub.ward --today 2031-03-15
runs 0 "It is a draft" -- new central-line-insertion --to alone
says_not "documents of the library"

# The copy is a draft of its own, says where it came from, and overwrites nothing.
first=$(echo "$names" | head -n 1)
is_true "the title is the new one" grep -q 'title  *"Ours: ' "$first/$first.ward"
is_true "the number is the new one" grep -q 'number  *OUR-01' "$first/$first.ward"
is_true "the version is that of a first draft" grep -q 'version  *0.1' "$first/$first.ward"
is_true "the copy says where it came from" grep -q "# Begun from \"$first\" of the standard library, STD-PR-" "$first/$first.ward"
cp "$first/$first.ward" before
runs 2 "is there already; nothing was changed" -- new "$first" --to "$first"
is_true "a file that was there is not changed" cmp -s before "$first/$first.ward"
runs 0 "card-a4" -- print "$first/$first.ward" --to cards --today 2031-03-15
runs 2 'the library holds no protocol called "gloves"' -- new gloves
finished
