# The square codes, read off rendered pages by a decoder that knows nothing of this project (zbar).
# ISO/IEC 18004 leaves the text free; ours is document number, version and the beginning of the hash.
. "$(dirname "$0")/lib.sh"

# sh square_codes.sh PROGRAM TREE [all]: with `all` the papers of every variant, which takes a minute; else of one.
cp "$tree"/examples/*.ward .
if [ "${3-}" = all ]; then
  runs 0 "" -- print aldermoss-exit.ward --to papers --today 2030-11-01
  least=35
else
  runs 0 "" -- print aldermoss-exit.ward --to papers --only "gown, boot covers" --today 2030-11-01
  least=10
fi
runs 0 "" -- print aldermoss-exit.ward --to papers --paper A5 --only "gown, boot covers" --what card,script,breach --today 2030-11-01
codes=0
for paper in papers/*.pdf; do
  faces=$(pdfinfo "$paper" | sed -n 's/^Pages: *//p')
  wanted=$(pdfinfo -meta "$paper" | sed -n 's/.*<dc:identifier>\(.*\)<.dc:identifier>.*/\1/p')
  is_true "$paper has a code of number, version and hash" sh -c 'printf "%s\n" "$1" | grep -qx "AMH-IP-012 2\.1 [0-9a-f]\{12\}"' - "$wanted"
  rm -rf faces
  mkdir faces
  pdftoppm -r 200 -gray "$paper" faces/f
  zbarimg --quiet --raw -Sdisable -Sqrcode.enable faces/*.pgm >decoded 2>/dev/null
  is_true "$paper: each of its $faces faces has one code" test "$(wc -l <decoded)" = "$faces"
  is_true "$paper: every code says \"$wanted\"; it says: $(sort -u decoded)" test "$(sort -u decoded)" = "$wanted"
  codes=$((codes + faces))
done
is_true "$(ls papers | wc -l) papers of $codes faces were looked at" test "$(ls papers | wc -l)" -ge $least

# A card under a scanner: what the decoder reads is answered by the program.
pdftoppm -r 200 -gray -f 3 -l 3 papers/AMH-IP-012-v2.1-gown-face-shield-boot-covers-script-a5.pdf one
runs 0 "current: it is the observer’s script for gown · face shield · boot covers" -- \
  fresh "$(zbarimg --quiet --raw one*.pgm 2>/dev/null)" aldermoss-exit.ward --today 2030-11-01
finished
