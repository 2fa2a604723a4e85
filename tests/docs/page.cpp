#include "page.hpp"

#include <fstream>
#include <sstream>

namespace stepward::test {
namespace {

int digit(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  return c >= 'A' && c <= 'F' ? c - 'A' + 10 : -1;
}

std::string unescaped(const std::string& text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool escape = text[i] == '\\' && i + 3 < text.size() && text[i + 1] == 'x' && digit(text[i + 2]) >= 0 &&
                        digit(text[i + 3]) >= 0;
    out += escape ? static_cast<char>(digit(text[i + 2]) * 16 + digit(text[i + 3])) : text[i];
    if (escape) i += 3;
  }
  return out;
}

/// Reads line by line; a fence opens with ```kind words and closes with ```.
class Reader {
 public:
  explicit Reader(const std::string& text) : text_(text) {}

  Page read() {
    std::size_t at = 0;
    while (at < text_.size()) {
      const std::size_t end = std::min(text_.find('\n', at), text_.size());
      line(text_.substr(at, end - at), at, end + 1);
      at = end + 1;
    }
    return page_;
  }

 private:
  void line(const std::string& words, std::size_t begin, std::size_t next) {
    if (words.rfind("```", 0) == 0) {
      if (fence_.empty())
        open(words, next);
      else
        close(begin);
    } else if (fence_.empty() && words.rfind("## Mended", 0) == 0) {
      mended_ = true;
    } else if (fence_.empty() && words.rfind("Checked on ", 0) == 0) {
      page_.today = words.substr(11, 10);
    } else if (fence_.empty() && words.rfind("Asked with --witness ", 0) == 0) {
      page_.witness = words.substr(21);
      while (!page_.witness.empty() && (page_.witness.back() == '\n' || page_.witness.back() == '\r')) page_.witness.pop_back();
    }
  }

  void open(const std::string& words, std::size_t next) {
    fence_ = words.substr(3);
    begin_ = next;
  }

  void close(std::size_t end) {
    std::istringstream words(fence_);
    std::string kind, word, name = "example.ward";
    bool escaped = false;
    words >> kind;
    while (words >> word) (word == "escaped" ? static_cast<void>(escaped = true) : static_cast<void>(name = word));
    const std::string body = text_.substr(begin_, end - begin_);
    if (kind == "ward") (mended_ ? page_.mended : page_.failing)[name] = escaped ? unescaped(body) : body;
    if (kind == "text" && !page_.has_printed) {
      page_.printed = body;
      page_.printed_begin = begin_;
      page_.printed_end = end;
      page_.has_printed = true;
    }
    fence_.clear();
  }

  const std::string& text_;
  Page page_;
  std::string fence_;
  std::size_t begin_ = 0;
  bool mended_ = false;
};

}  // namespace

Page take_apart(const std::string& text) { return Reader(text).read(); }

std::string read_file(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

}  // namespace stepward::test
