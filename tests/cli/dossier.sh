# print --what dossier: made only by name, also of a protocol with errors, with hashes that other tools agree on.
. "$(dirname "$0")/lib.sh"

example=$tree/examples/aldermoss-entry.ward
day="--today 2030-11-01"
dossier=out/AMH-IP-011-v2.0-dossier-a4
# shellcheck disable=SC2086
{
  runs 0 "dossier-a4.pdf" "dossier-a4.html  a web page" "checked against" -- print "$example" --to out --what dossier --as pdf,xhtml $day
  says_not " safe"
  is_true "nothing else was made" test "$(ls out | wc -l)" = 2
  is_true "qpdf finds no fault" qpdf --check $dossier.pdf
  pdftotext -layout $dossier.pdf dossier.txt
  for section in "1. Verdict" "2. What was found" "3. Which rule is asked" "4. Rules that are never" "5. Registers" "6. How far dirt comes" "7. Kit, waste" "8. Sources" "9. Flow chart" \
    "10. Slips" "11. Signatures" "12. Failure modes, to be scored by hand" "The questions" "Where a bare hand can meet" "Steps that no rule asks about"; do
    is_true "the PDF has: $section" grep -F "$section" dossier.txt
    is_true "the page has: $section" grep -F "$section" $dossier.html
  done

  # The digits of each file are those that sha256sum (GNU coreutils) gives.
  for file in aldermoss-entry.ward aldermoss-library.ward; do
    digits=$(sha256sum "$tree/examples/$file" | cut -d ' ' -f 1)
    is_true "the digits of $file" grep -F "$digits" dossier.txt
  done
  digits=$(sha256sum "$tree/stdlib-procedures/agents/disinfectants.ward" | cut -d ' ' -f 1)
  is_true "the digits of a file of the standard library" grep -F "$digits" dossier.txt
  if "$stepward" graph "$example" --as svg -o chart.svg; then
    digits=$(sha256sum chart.svg | cut -d ' ' -f 1)
    is_true "the digits of the flow chart" grep -F "$digits" dossier.txt
  fi

  # Twice the same bytes, and none that tell where on this machine the source lies.
  cp $dossier.pdf first.pdf
  cp $dossier.html first.html
  rm $dossier.pdf $dossier.html
  runs 0 "" -- print "$example" --to out --what dossier --as pdf,xhtml $day
  is_true "a dossier gives the same bytes twice" cmp $dossier.pdf first.pdf
  is_true "and the same page" cmp $dossier.html first.html
  is_true "no folder of this machine" sh -c '! grep -F "$1" "$2"' - "$tree" $dossier.html

  runs 2 "dossier: it is printed on A4, Letter, A3 or Tabloid, not on A5" -- print "$example" --to small --what dossier --paper A5 $day

  # Without --what there is none, and the sign-off page lists one that was made with it.
  runs 0 "" -- print "$example" --to all --only "gown, boot covers" $day
  is_true "none among the others" sh -c '! ls all | grep dossier'
  runs 0 "" -- print "$example" --to both --what dossier,sign-off $day
  is_true "the sign-off page lists it" sh -c 'pdftotext both/*sign-off*.pdf - | grep "Review dossier"'

  # A protocol with errors has a dossier, marked as a draft on every face, and no other paper.
  sed '/known as rub before the first glove/d; /disinfect bare hands with hand rub/d' "$example" >broken.ward
  cp "$tree"/examples/aldermoss-library.ward "$tree"/examples/aldermoss-rules.ward .
  runs 0 "dossier-a4-draft.pdf" -- print broken.ward --to drafts --what dossier $day
  faces=$(pdfinfo drafts/*.pdf | sed -n 's/^Pages: *//p')
  is_true "each face says DRAFT" test "$(pdftotext -raw drafts/*.pdf - | tr -d ' \n' | grep -o DRAFT | wc -l)" -ge "$faces"
  runs 1 "nothing was printed" "--draft" -- print broken.ward --to refused --what dossier,card $day
  is_true "no folder was made" test ! -e refused

  # A long one.
  {
    sed '/^phase/,$d' "$tree/examples/aldermoss-entry.ward" | sed -n '/^never/,$d; 1,/^end document/p' | sed 's/^\( *languages\).*/\1 English/'
    printf 'use library standard "team"\npeople\n  wearer begins in exit area\n  wearer acts unless a line names someone else\nend people\nendings\n  done is normal\nend endings\nphase "Long"\n'
    n=0
    while [ $n -lt 5000 ]; do
      n=$((n + 1))
      echo "  act \"Breathe out, time $n.\""
    done
    printf '  finish as done\nend phase\n'
  } >long.ward
  runs 0 "dossier-a4.pdf" -- print long.ward --to long --what dossier $day
  is_true "the last step is there" sh -c 'pdftotext -layout long/*.pdf - | grep -E "1–5000"'
}
finished
