#!/bin/sh
# Words in another language, from the command line: what is missing is listed, filled in, and printed.
. "$(dirname "$0")/lib.sh"

cp "$tree"/examples/*.ward .
runs 0 "words   Spanish: all of 45 papers" -- check aldermoss-exit.ward --today 2030-11-01
runs 0 "Spanish: 45 of 45 papers are complete" -- words aldermoss-exit.ward --in spanish
runs 0 "words in French for AMH-IP-012 version 2.1" 'phrase "go on at [step]" ""' 'text for green card' 'name outer gloves "" called ""' -- words aldermoss-exit.ward --in French

# What is listed can be read again, and says nothing yet.
runs 0 "French: 0 of 45 papers are complete" -- words aldermoss-exit.ward --in French -o fr.ward
runs 2 "fr.ward is there already" -- words aldermoss-exit.ward --in French -o fr.ward
sed -i 's/^use words .*/&\nuse words "fr.ward"/; s/English, Spanish/English, Spanish, French/' aldermoss-exit.ward
runs 0 "warning X410 fr.ward" "words   French: 0 of 45 papers" -- check aldermoss-exit.ward --today 2030-11-01

# What is listed is all that is missing: with every text in the place of its translation, the papers are complete.
awk '{
  if ($1 == "from") { from = $0; sub(/^ *from /, "", from) }
  if ($1 == "say") sub(/""/, from)
  if ($1 == "phrase") { said = $0; sub(/^phrase /, "", said); sub(/ ""$/, "", said); $0 = "phrase " said " " said }
  if ($1 == "name") { said = $0; sub(/^name /, "", said); sub(/ "" called ""$/, "", said); quoted = said ~ /^"/ ? said : "\"" said "\""; $0 = "name " said " " quoted " called " quoted }
  gsub(/\\&/, "\\&"); print
}' fr.ward >filled.ward && mv filled.ward fr.ward
runs 0 "words   French: all of 45 papers" -- check aldermoss-exit.ward --today 2030-11-01
cp "$tree"/examples/aldermoss-exit.ward .
sed -i 's/^use words .*/&\nuse words "fr.ward"/; s/English, Spanish/English, Spanish, French/' aldermoss-exit.ward
"$stepward" words "$tree"/examples/aldermoss-exit.ward --in French >fr.ward

# Each language has papers of its own; half a translation is a draft.
runs 0 "coverall-goggles-rubber-boots-card-a4-spanish.pdf" -- print aldermoss-exit.ward --to cards --language Spanish --only "coverall with goggles with rubber boots" --today 2030-11-01
runs 0 "card-a4-french-draft.pdf" "not in French yet" -- print aldermoss-exit.ward --to cards --language french --what card --only "coverall with goggles with rubber boots" --today 2030-11-01
runs 2 'no words in "Welsh"; there are words in Spanish, French' -- print aldermoss-exit.ward --to cards --language Welsh
runs 0 "card-a4-english.pdf" -- print aldermoss-exit.ward --to cards --language English --what card --only "coverall with goggles with rubber boots" --today 2030-11-01

# A text that changed is told with what it says now, and the gate is closed.
sed -i 's/Hold the green card to the glass/Hold the blue card to the glass/' aldermoss-exit.ward
runs 1 "error X404 aldermoss-exit.es.ward" "Hold the blue card to the glass." -- check aldermoss-exit.ward --today 2030-11-01
# Words for another version: exit code 1, in plain words.
sed -i 's/^  version     2.1/  version     2.2/' aldermoss-exit.ward
runs 1 "error X402 aldermoss-exit.es.ward" "AMH-IP-012 is version 2.2, these words are for version 2.1" -- check aldermoss-exit.ward --today 2030-11-01
finished
