// The register of copies: what hangs where, in what version, since when.

#include <algorithm>

#include "base/text.hpp"
#include "model/from_syntax/passes.hpp"

namespace stepward::model::reading {
namespace {

class CopyReader {
 public:
  explicit CopyReader(Context& context) : context_(context), protocol_(context.protocol) {}

  void read(const Node& line) {
    const auto reading = context_.read(line, context_.frames->copy);
    if (!reading) return;
    Copy copy;
    copy.span = line.span;
    read_what(line, *reading, copy);
    // That a copy hangs somewhere is no use of a choice: no line of the protocol hangs on it.
    const std::vector<bool> used = context_.choice_used;
    copy.variant = condition_of(context_, line, *reading);
    context_.choice_used = used;
    read_state(line, *reading, copy);
    if (is_listed(copy)) return;
    protocol_.copies.push_back(std::move(copy));
  }

 private:
  void read_what(const Node& line, const Reading& reading, Copy& copy) {
    const Segment& number = *reading.find("n");
    const auto count = whole(line.phrase[number.begin].text, 9'999);
    if (!count || *count == 0) context_.report(Code::D134, span_of(line, number), {words(line, number)});
    copy.count = count.value_or(0);
    copy.paper = words(line, *reading.find("paper"));
    copy.paper_span = span_of(line, *reading.find("paper"));
    copy.place = quoted(line, reading, "place");
    if (const Segment* language = reading.find("language")) {
      copy.language = words(line, *language);
      copy.language_span = span_of(line, *language);
    }
  }

  void read_state(const Node& line, const Reading& reading, Copy& copy) {
    if (const Segment* version = reading.find("version")) {
      copy.version = line.phrase[version->begin].written;
      if (copy.version != protocol_.document.version)
        context_.report(Code::D136, span_of(line, *version), {copy.version, protocol_.document.version});
    }
    if (const Segment* day = reading.find("date")) {
      const std::string& written = line.phrase[day->begin].text;
      if (is_day(written)) copy.since = written;
      else context_.report(Code::D107, span_of(line, *day), {written});
    }
    if (const Segment* bearing = reading.find("bearing")) {
      copy.bearing = quoted(line, reading, "bearing");
      copy.bearing_span = span_of(line, *bearing);
    }
  }

  bool is_listed(const Copy& copy) {
    const auto same_values = [&](const VariantCondition& other) {
      return std::is_permutation(copy.variant.begin(), copy.variant.end(), other.begin(), other.end(), [](const ChoiceValue& a, const ChoiceValue& b) {
        return a.choice == b.choice && a.value == b.value;
      });
    };
    const auto before = std::find_if(protocol_.copies.begin(), protocol_.copies.end(), [&](const Copy& other) {
      return text::fold(other.place) == text::fold(copy.place) && other.paper == copy.paper && other.language == copy.language && same_values(other.variant);
    });
    if (before == protocol_.copies.end()) return false;
    context_.report(Code::D133, copy.span).places.push_back({before->span, "listed first"});
    return true;
  }

  Context& context_;
  Protocol& protocol_;
};

}  // namespace

void read_copies(Context& context) {
  CopyReader reader(context);
  if (context.loaded.files[0].tree.file_kind != "protocol") return;  // told by `check_whole`
  for (const Place& place : context.declared) {
    if (!context.is_root(place) || context.node(place).kind != NodeKind::copies) continue;
    for (const NodeId child : context.node(place).children) {
      if (context.tree(place)[child].kind == NodeKind::plain) reader.read(context.tree(place)[child]);
    }
  }
}

}  // namespace stepward::model::reading
