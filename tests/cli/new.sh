#!/bin/sh
# A protocol of one's own, begun from every protocol of the library: it checks without an error as it stands, and prints.
. "$(dirname "$0")/lib.sh"

names=$("$stepward" new | awk '$1 == "stepward" && $2 == "new" { print $3 }')
is_true "there are at least fourteen protocols to begin from" [ "$(echo "$names" | wc -l)" -ge 14 ]
for name in $names; do
  runs 0 "$name/$name.ward" "It is a draft" -- new "$name" --to "$name" --title "Ours: $name" --number OUR-01
  runs 0 "0 errors" -- check "$name/$name.ward" --today 2031-03-15
done

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
