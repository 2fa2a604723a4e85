# graph: several formats in one command, pages of a flow chart, and --depfile.
. "$(dirname "$0")/lib.sh"

example=$tree/examples/aldermoss-exit.ward
formats=json,graphml,dot,fhir
endings="json:graph.json graphml:graphml dot:dot fhir:fhir.json"
if "$stepward" graph "$example" --as svg -o probe.svg 2>/dev/null; then
  placed=yes
  formats=json,graphml,dot,svg,bpmn,fhir
  endings="$endings svg:svg bpmn:bpmn"
else
  placed=no
fi

# Together they are the same as one by one, in any order, for all variants and for one.
runs 0 -- graph "$example" --as $formats --to all
runs 0 -- graph "$example" --as fhir,json --to other --only "gown, boot covers"
for one in $endings; do
  runs 0 -- graph "$example" --as "${one%%:*}" -o one
  is_true "${one%%:*} is the same alone" cmp one "all/aldermoss-exit.${one#*:}"
done
is_true "nothing else is written" test "$(find all -type f | wc -l)" = "$(echo $endings | wc -w)"
runs 0 -- graph "$example" --as json -o one --only "gown, boot covers"
is_true "a file of one variant has its name" cmp one other/aldermoss-exit-gown-face-shield-boot-covers.graph.json
runs 0 -- graph "$example" --as json,graphml --to walked --walk
is_true "the walk is told in both" sh -c 'grep -q "\"taken\": false" walked/aldermoss-exit.graph.json && grep -q "key=\"taken\">false" walked/aldermoss-exit.graphml'

# Lists that make no sense are refused before anything is read or written.
runs 2 "several formats go into a folder: --to" -- graph "$example" --as json,dot
runs 2 "several formats go into a folder: --to" -- graph "$example" --as json,dot --depfile x.d
runs 2 "json is asked for twice" -- graph "$example" --as json,dot,json --to refused
runs 2 "jsn" -- graph "$example" --as json,jsn --to refused
runs 2 "" -- graph "$example" --as json,dot --to refused -o file
runs 2 "--walk goes with" -- graph "$example" --as dot,fhir --to refused --walk
runs 2 "--paper goes with" -- graph "$example" --as json --paper A3 --to refused
runs 2 "--paper goes with" -- graph "$example" --as svg --paper A3 -o refused.svg
runs 2 "A9" -- graph "$example" --as svg --paper A9 --to refused
is_true "a wrong use writes nothing" test ! -e refused -a ! -e x.d -a ! -e file -a ! -e refused.svg

# All files or none: what cannot be put in place keeps the others from being changed.
small_protocol >small.ward
sed 's/title "Apron off"/title "Apron off, again"/' small.ward >again.ward
runs 0 -- graph small.ward --as json,graphml,dot,fhir --to kept
cp -r kept before
cp again.ward small.ward
rm kept/small.dot
mkdir kept/small.dot
runs 3 "a folder of that name" -- graph small.ward --as json,graphml,dot,fhir --to kept
for file in graph.json graphml fhir.json; do is_true "small.$file stays as it was" cmp "before/small.$file" "kept/small.$file"; done
is_true "no temporary file is left" test -z "$(find . -name '.*.part')"
echo >a_file
runs 3 "a_file" -- graph small.ward --as json,dot --to a_file
sed 's/take off plastic apron/take off plastic apro/' small.ward >misspelt.ward
runs 1 "no graph was made" -- graph misspelt.ward --as json,dot --to none
is_true "a protocol without meaning makes no folder" test ! -e none
runs 3 "" -- graph nowhere.ward --as json,dot --to none

# The rule of --depfile names every file; what an exit pairs with is no part of its graph.
cp "$tree"/examples/*.ward .
runs 0 -- graph aldermoss-exit.ward --as json,dot --to out --depfile graphs.d
is_true "every file is a target" grep -q '^out/aldermoss-exit.graph.json out/aldermoss-exit.dot: aldermoss-exit.ward ' graphs.d
is_true "what it uses is named" grep -q 'aldermoss-library.ward' graphs.d
is_true "the entry is not" sh -c '! grep -q aldermoss-entry graphs.d'
runs 0 -- graph small.ward --as dot -o small.dot --depfile small.d
is_true "one file is one target" test "$(cat small.d)" = 'small.dot: small.ward'
runs 0 '"format": "stepward step graph"' -- graph small.ward --depfile graph.d
is_true "without a file the rule is for what it is named after" test "$(cat graph.d)" = 'graph: small.ward'
runs 2 "cannot stand in a --depfile" -- graph small.ward --as json,dot --to 'back\slash' --depfile y.d
is_true "then there are no graphs either" test ! -e 'back\slash' -a ! -e y.d

cat >build.ninja <<NINJA
rule graphs
  command = '$stepward' graph \$in --as json,dot --to built --depfile \$in.d
  depfile = \$in.d
build built/aldermoss-exit.graph.json built/aldermoss-exit.dot: graphs aldermoss-exit.ward
NINJA
is_true "ninja makes both" ninja
is_true "nothing changed, nothing is made" sh -c 'ninja | grep -q "no work to do"'
sleep 1
touch aldermoss-library.ward
is_true "both are made again when a file that was read has changed" sh -c 'ninja -n -v | grep -q built'

# Pages: every number of the chart is on one of them, each page says which it is, and every letter stands at two ends.
if [ $placed = yes ]; then
  for size in a4 A3; do
    runs 0 -- graph aldermoss-exit.ward --as svg --paper $size --only "coverall, goggles, boot covers" --to "pages-$size"
    grep -ohE 'class="b"[^>]*>[^<]*<' pages-$size/*.svg | sed 's/.*>\([^ <]*\).*/\1/' | grep -E '^(Q?[A-H]?B?[0-9]|[a-z]+$)' | sort >shown
    runs 0 -- graph aldermoss-exit.ward --as svg --only "coverall, goggles, boot covers" -o sheet.svg
    grep -ohE 'class="b"[^>]*>[^<]*<' sheet.svg | sed 's/.*>\([^ <]*\).*/\1/' | grep -E '^(Q?[A-H]?B?[0-9])' | sort >wanted
    grep -vE '^[a-z]+$' shown >numbers
    is_true "$size: every number once, as on the sheet" cmp numbers wanted
    count=$(find "pages-$size" -name '*.svg' | wc -l)
    is_true "$size: several pages" test "$count" -gt 3
    is_true "$size: each says which it is" grep -q "page $count / $count" "pages-$size/aldermoss-exit-coverall-goggles-boot-covers-page-$count.svg"
    is_true "$size: and has the caution" test "$(grep -l 'Local policy, product label and licensed practice decide' pages-$size/*.svg | wc -l)" = "$count"
    # The key shows an "a" of its own.
    letters=$(grep -ohE 'class="b"[^>]*>[a-z]{1,2}</text>' pages-$size/*.svg | sed 's/.*>\([a-z]*\)<.*/\1/' | sort | uniq -c | awk '{ print $1 + ($2 == "a" ? -1 : 0) }' | sort -u | tr '\n' ' ')
    is_true "$size: every letter stands at two ends, not $letters" test "$letters" = "2 "
  done
  is_true "A4 upright" grep -q 'width="595.3pt" height="841.9pt"' pages-a4/aldermoss-exit-coverall-goggles-boot-covers-page-1.svg
  is_true "A3 on its side" grep -q 'width="1190.6pt" height="841.9pt"' pages-A3/aldermoss-exit-coverall-goggles-boot-covers-page-1.svg
fi
finished
