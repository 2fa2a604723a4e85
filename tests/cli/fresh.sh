# fresh: whether a paper on the wall is current, told from the words on printed pages.
. "$(dirname "$0")/lib.sh"

cp "$tree"/examples/*.ward .
day="--today 2030-11-01"
one="gown, boot covers"
words_of() { pdfinfo "$1" | sed -n 's/^Keywords: *//p'; }
code_of() { pdfinfo -meta "$1" | sed -n 's/.*<dc:identifier>\(.*\)<.dc:identifier>.*/\1/p'; }

# shellcheck disable=SC2086
{
  # Every paper of a variant, in two sizes and two languages, is known by its words; the size is no part of them.
  runs 0 "" -- print aldermoss-exit.ward --to now --only "$one" $day
  runs 0 "" -- print aldermoss-exit.ward --to now --only "$one" --paper A5 --what card $day
  runs 0 "" -- print aldermoss-exit.ward --to now --only "$one" --language Spanish --what card $day
  for paper in now/*-boot-covers-*.pdf now/*-dilution-*.pdf; do
    runs 0 "current: it is the" "AMH-IP-012 version 2.1" -- fresh "$(words_of "$paper")" aldermoss-exit.ward $day
  done
  # A dossier is one run's, and is known by its words on the day that it was made on.
  runs 0 "" -- print aldermoss-exit.ward --to now --what dossier $day
  runs 0 "current: it is the review dossier" "AMH-IP-012 version 2.1" -- fresh "$(words_of now/*-dossier-a4.pdf)" aldermoss-exit.ward $day
  runs 1 "a review dossier was looked for as it would be made on 2030-11-02" -- fresh "$(words_of now/*-dossier-a4.pdf)" aldermoss-exit.ward --today 2030-11-02
  is_true "ten papers were asked about" test "$(ls now/*-boot-covers-*.pdf now/*-dilution-*.pdf | wc -l)" = 10
  runs 0 "in Spanish" -- fresh "$(words_of now/*-spanish.pdf)" aldermoss-exit.ward $day
  card=now/AMH-IP-012-v2.1-gown-face-shield-boot-covers-card-a4.pdf
  # The code as one word or as three; words bare, in capitals, with commas.
  runs 0 "wearer’s card for gown" -- fresh "$(code_of $card)" aldermoss-exit.ward $day
  runs 0 "wearer’s card for gown" -- fresh $(code_of $card) aldermoss-exit.ward $day
  runs 0 "wearer’s card for gown" -- fresh $(words_of $card) aldermoss-exit.ward $day
  runs 0 "wearer’s card for gown" -- fresh "$(words_of $card | tr '[:lower:]' '[:upper:]' | sed 's/ – /,/g')" aldermoss-exit.ward $day

  # Misheard: a slip of one word is taken for what it was; another check word is shown beside the right one.
  first=$(words_of $card | sed 's/ .*//')
  rest=$(words_of $card | sed 's/^[^ ]* – //')
  runs 0 "was taken for “$first”" -- fresh "${first}x – $rest" aldermoss-exit.ward $day
  other=zebra
  [ "$first" = zebra ] && other=yogurt
  runs 1 "not current as it was read" "nearest  $first – $rest" -- fresh "$other – $rest" aldermoss-exit.ward $day
  runs 1 "no paper of aldermoss-exit.ward carries this" "take it down" -- fresh heron cello lettuce nutmeg aldermoss-exit.ward $day
  runs 2 "four check words; 2 were given" -- fresh heron cello aldermoss-exit.ward $day
  runs 2 "" -- fresh heron
  runs 1 "paper of document AMH-IP-013" -- fresh AMH-IP-013 1.0 0123456789ab aldermoss-exit.ward $day
  runs 1 "it is of version 1.4; now there is version 2.1" -- fresh AMH-IP-012 1.4 0123456789ab aldermoss-exit.ward $day
  runs 3 "" -- fresh heron cello lettuce nutmeg nowhere.ward

  # The day alone changes no word. Once the review is due the text still stands, and the answer says what is wrong instead.
  runs 0 "current" -- fresh "$(words_of $card)" aldermoss-exit.ward --today 2031-09-30
  runs 1 "nothing on it has changed" "the review was due 2031-10-01" "Nuala Brightwater" -- fresh "$(words_of $card)" aldermoss-exit.ward --today 2032-01-01
  says_not "take it down"

  # A remark changes no word; withdrawing does, and a card of a withdrawn document comes down.
  echo "# seen by nobody" >>aldermoss-exit.ward
  runs 0 "current" -- fresh "$(words_of $card)" aldermoss-exit.ward $day

  # An older source: whose card it is, and what has changed, step by step.
  mkdir older
  cp ./*.ward older
  sed -i 's/^  version  *2.1/  version 1.9/; /^use words/d; /^pairs with/d; s/English, Spanish/English/; s/^\(  replaces .* version\) 2.0/\1 1.4/; s/Turn round once, slowly. Lift/Turn round once. Lift/' older/aldermoss-exit.ward
  # One disinfection more: it is "gone" now, and all that follows has other numbers.
  sed -i '/known as apron off/{n;s/^  disinfect hands with strong chlorine$/&\n    known as first of two\n&\n    known as second of two/}' older/aldermoss-exit.ward
  is_true "the older file has one step more" grep -q "second of two" older/aldermoss-exit.ward
  runs 0 "" -- print older/aldermoss-exit.ward --to then --only "$one" --what card $day
  old=$(words_of then/*-card-a4.pdf)
  runs 1 "no paper of aldermoss-exit.ward" "--before OLDFILE" -- fresh "$old" aldermoss-exit.ward $day
  runs 1 "not current: take it down" "of AMH-IP-012 version 1.9" "now there is AMH-IP-012 version 2.1" "--what card" \
    "changed  version: 2.1" "changed  step 5: TURN round once, slowly" "was   step 5: TURN round once." "gone     step 12: DISINFECT your hands" \
    "the same but for numbers, from 13 on, which is now 12" -- fresh "$old" aldermoss-exit.ward --before older/aldermoss-exit.ward $day
  is_true "one step is gone and none is new" test "$(grep -c '^  gone' answer.out) $(grep -c '^  new' answer.out)" = "1 0"
  runs 0 "current" -- fresh "$(words_of $card)" aldermoss-exit.ward --before older/aldermoss-exit.ward $day

  runs 1 "" -- fresh "$old" aldermoss-exit.ward --before older/aldermoss-exit.ward --format json $day
  is_true "the JSON says the same" /usr/bin/python3 - answer.out <<'PYTHON'
import json, sys
answer = json.load(open(sys.argv[1]))
assert answer["format"] == "stepward fresh" and answer["version"] == 1
assert answer["current"] is False and answer["answer"] == "older"
assert answer["paper"]["version"] == "1.9" and answer["now"]["version"] == "2.1" and answer["now"]["what"] == "card"
gone = [c for c in answer["changes"] if c["what"] == "gone"]
assert len(gone) == 1 and gone[0]["then"]["at"] == "12" and gone[0]["now"] is None
PYTHON
  runs 0 '"current": true' -- fresh "$(words_of $card)" aldermoss-exit.ward --format json $day

  # A file with mistakes answers nothing, and nobody may take that for a yes.
  sed 's/^  finish as/  finnish as/' aldermoss-exit.ward >mistaken.ward
  runs 1 "no answer, which does not mean that the card is current" "mistaken.ward: it has to be mended first" -- fresh "$(words_of $card)" mistaken.ward $day

  # Withdrawn: its own words, and still not for the wall.
  small_protocol | sed 's/status draft/status withdrawn/' >withdrawn.ward
  runs 0 "" -- print withdrawn.ward --to gone --what card --draft $day
  runs 1 "that document is withdrawn" "take it down" -- fresh "$(words_of gone/*.pdf)" withdrawn.ward $day
  small_protocol >small.ward
  runs 0 "" -- print small.ward --to trial --what card $day
  runs 0 "marked DRAFT: not for use" -- fresh "$(words_of trial/*.pdf)" small.ward $day
}
finished
