# Writes the text of every file of a list into one C++ source, as a table of name and text.
# LIST: a file naming the files, one a line; OUT: the source to write.
# ORIGIN: where the files come from, for the remark on top; ROOT: names are paths relative to it, without it file stems.
# HEADER, NAMESPACE, TYPE, FUNCTION, TABLE, MARK: the header that declares the table, and the names used in the source.
# The standard asks compilers for literals of 64 KiB only, and joined pieces count as one. g++ and clang take far more,
# so their remark on it is turned off for this file. The pieces keep the lines that a person may have to read short.
# The last piece says that they make a string view: its length is then known, and no compiler counts the characters of
# the whole library while it evaluates a constant.

file(STRINGS "${LIST}" paths)
list(SORT paths)
set(count 0)
file(WRITE "${OUT}.part"
  "// Generated from ${ORIGIN}. Do not edit.\n"
  "#include \"${HEADER}\"\n\n"
  "#pragma GCC diagnostic ignored \"-Woverlength-strings\"\n\n"
  "namespace ${NAMESPACE} {\nnamespace {\n\n"
  "using namespace std::string_view_literals;\n\n"
  "constexpr ${TYPE} ${TABLE}[] = {\n")
foreach(path IN LISTS paths)
  if(ROOT)
    file(RELATIVE_PATH name "${ROOT}" "${path}")
  else()
    get_filename_component(name "${path}" NAME_WE)
  endif()
  file(READ "${path}" text)
  if(text MATCHES "\\)${MARK}\"")
    message(FATAL_ERROR "${path} holds the words that end an embedded text")
  endif()
  file(APPEND "${OUT}.part" "    {\"${name}\", ")
  string(LENGTH "${text}" left)
  set(from 0)
  while(left GREATER 0)
    string(SUBSTRING "${text}" ${from} 8000 piece)
    string(LENGTH "${piece}" taken)
    file(APPEND "${OUT}.part" "R\"${MARK}(${piece})${MARK}\"\n")
    math(EXPR from "${from} + ${taken}")
    math(EXPR left "${left} - ${taken}")
  endwhile()
  file(APPEND "${OUT}.part" "     \"\"sv},\n")
  math(EXPR count "${count} + 1")
endforeach()
file(APPEND "${OUT}.part"
  "    {\"\", \"\"},\n};\n\n}  // namespace\n\n"
  "std::span<const ${TYPE}> ${FUNCTION}() { return {${TABLE}, ${count}}; }\n\n"
  "}  // namespace ${NAMESPACE}\n")
file(RENAME "${OUT}.part" "${OUT}")
