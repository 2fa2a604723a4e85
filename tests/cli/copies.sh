# The register of copies: it changes no other paper, and the recall list and `fresh --copies` tell what is out of date.
. "$(dirname "$0")/lib.sh"

words_of() { pdfinfo "$1" | sed -n 's/^Keywords: *//p'; }
page() { pdftotext -raw "$1" - | tr -s '[:space:]' ' '; }
day="--today 2030-11-01"
small_protocol | sed '/^people/i variants\n  apron choice is plastic apron or cloth apron\nend variants\n' |
  sed 's/wearing plastic apron/wearing apron choice/; s/take off plastic apron/take off apron choice/' |
  sed '/^technique pull/i item cloth apron\n  kind apron\n  worn on torso\n  surfaces front\n  usually taken off using pull\nend item' >plain.ward
# shellcheck disable=SC2086
{
  runs 0 "0 errors, 0 warnings" -- check plain.ward $day
  runs 2 "has no register of copies" -- fresh --copies plain.ward $day
  runs 0 "" -- print plain.ward --to before $day
  is_true "no register, no list" test -z "$(ls before | grep recall)"
  runs 0 "no recall list: the protocol has no register" -- print plain.ward --to nothing --what recall,kit $day
  card=$(words_of before/T-1-v1.0-cloth-apron-card-a4-draft.pdf)

  cp plain.ward ward.ward
  cat >>ward.ward <<WARD

copies
  2 card at "Bay, left of the door" for plastic apron version 1.0 since 2030-10-02
  3 card at "Bay, right of the door" for cloth apron bearing "$card"
  1 script at "Trolley" for cloth apron bearing "heron – cello – lettuce – nutmeg"
  4 kit list at "Store" for plastic apron
  1 breach card at "Exit" for plastic apron
end copies
WARD
  runs 0 "0 errors, 0 warnings" -- check ward.ward $day
  runs 0 "recall-a4" -- print ward.ward --to after $day
  # Not a word of any paper of the ward's work is another.
  for paper in before/*-card-* before/*-script-* before/*-kit-* before/*-competency-*; do
    is_true "$paper has the same bytes with a register" cmp "$paper" "after/${paper#before/}"
  done
  list=$(page after/*-recall-*.pdf)
  for words in "RECALL LIST" "Bay, left of the door" "version 1.0" "since 2 Oct 2030" "OUT OF DATE" "not known" "words now:" "Trolley" "plastic apron"; do
    is_true "the list says \"$words\": $list" sh -c 'case $1 in *"$2"*) ;; *) exit 1 ;; esac' - "$list" "$words"
  done
  # The second "not known" is the one in what to do.
  is_true "two of five are out of date, one is not known" test "$(printf '%s' "$list" | grep -o 'OUT OF DATE' | wc -l) $(printf '%s' "$list" | grep -o 'not known' | wc -l)" = "2 2"
  runs 0 "" -- print ward.ward --to again --what recall $day
  is_true "the list has the same bytes twice" cmp again/*-recall-*.pdf after/*-recall-*.pdf

  runs 1 "11 copies on the register, 2 out of date" "out of date  1 × Wearer’s script for cloth apron, Trolley" "words now:" "out of date  1 × Breach card for plastic apron, Exit" \
    "not known    4 × Kit list for plastic apron, Store" "current      2 × Wearer’s card for plastic apron, Bay, left of the door, version 1.0, since 2030-10-02" \
    -- fresh --copies ward.ward $day
  is_true "what is out of date stands first" sh -c 'sed -n 2p answer.out | grep -q "out of date"'
  runs 2 "takes the protocol alone" -- fresh heron cello lettuce nutmeg ward.ward --copies $day

  # A step changes: the card that bore the current words is out of date, by itself.
  sed 's/TAKE OFF \[item\]\./TAKE OFF [item] slowly./; /1 script/d; /breach card/d' ward.ward >changed.ward
  runs 1 "out of date  3 × Wearer’s card for cloth apron, Bay, right" -- fresh --copies changed.ward $day
  # A new version: so is what hangs there in the old one, and check tells of it.
  sed 's/^  version 1.0$/  version 1.1/; /1 script/d; /breach card/d' ward.ward >newer.ward
  runs 0 "warning D136 newer.ward" -- check newer.ward $day
  runs 1 "out of date  2 × Wearer’s card for plastic apron" -- fresh --copies newer.ward $day

  runs 0 "copies 2 of card at Bay, left of the door" -- dump ward.ward --stage model
  runs 0 "copies" -- dump ward.ward --stage tree
  cp ward.ward tidied.ward
  runs 0 "" -- tidy tidied.ward
  runs 0 "" -- tidy --check tidied.ward
  is_true "tidy keeps the register" test "$(grep -c 'at "' tidied.ward)" = 5
}
finished
