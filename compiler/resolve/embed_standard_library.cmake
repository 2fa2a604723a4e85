# Writes the text of every file of the standard library into one C++ source.
# ROOT: the folder the paths are relative to; LIST: a file naming them, one a line; OUT: the source to write.
# A raw string literal may not be longer than 64 KiB everywhere, so a text is cut into pieces that the compiler joins.

file(STRINGS "${LIST}" paths)
list(SORT paths)
set(entries "")
set(count 0)
file(WRITE "${OUT}.part"
  "// Generated from stdlib-procedures/. Do not edit.\n"
  "#include \"resolve/standard_library.hpp\"\n\n"
  "namespace stepward::resolve {\nnamespace {\n\n"
  "constexpr StandardFile files[] = {\n")
foreach(path IN LISTS paths)
  file(RELATIVE_PATH shown "${ROOT}" "${path}")
  file(READ "${path}" text)
  if(text MATCHES "\\)ward\"")
    message(FATAL_ERROR "${shown} holds the words that end an embedded text")
  endif()
  file(APPEND "${OUT}.part" "    {\"${shown}\", ")
  string(LENGTH "${text}" left)
  set(from 0)
  while(left GREATER 0)
    string(SUBSTRING "${text}" ${from} 8000 piece)
    string(LENGTH "${piece}" taken)
    file(APPEND "${OUT}.part" "R\"ward(${piece})ward\"\n")
    math(EXPR from "${from} + ${taken}")
    math(EXPR left "${left} - ${taken}")
  endwhile()
  file(APPEND "${OUT}.part" "     \"\"},\n")
  math(EXPR count "${count} + 1")
endforeach()
file(APPEND "${OUT}.part"
  "    {\"\", \"\"},\n};\n\n}  // namespace\n\n"
  "std::span<const StandardFile> standard_files() { return {files, ${count}}; }\n\n"
  "}  // namespace stepward::resolve\n")
file(RENAME "${OUT}.part" "${OUT}")
