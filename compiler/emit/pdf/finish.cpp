#include "emit/pdf/finish.hpp"

#include <qpdf/qpdf-c.h>  // the C interface: the C++ headers of libqpdf 11 are not C++20 for clang

#include <memory>

namespace stepward::emit::pdf {

namespace {

std::string escaped(const std::string& text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&': out += "&amp;"; break;
      case '<': out += "&lt;"; break;
      case '>': out += "&gt;"; break;
      case '"': out += "&quot;"; break;
      default: out += c;
    }
  }
  return out;
}

std::string xmp(const Control& control, const std::string& date) {
  return "<?xpacket begin=\"\xEF\xBB\xBF\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n"
         "<x:xmpmeta xmlns:x=\"adobe:ns:meta/\"><rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n"
         "<rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\" "
         "xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\">\n"
         "<dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">" +
         escaped(control.title + " – " + control.kind) +
         "</rdf:li></rdf:Alt></dc:title>\n"
         "<dc:identifier>" +
         escaped(control.code) +
         "</dc:identifier>\n"
         "<dc:language><rdf:Bag><rdf:li>" +
         escaped(control.language) +
         "</rdf:li></rdf:Bag></dc:language>\n"
         "<xmp:CreateDate>" +
         date +
         "</xmp:CreateDate>\n"
         "</rdf:Description></rdf:RDF></x:xmpmeta>\n<?xpacket end=\"r\"?>";
}

void add_to_catalogue(qpdf_data pdf, const Control& control, const std::string& date) {
  const qpdf_oh root = qpdf_get_root(pdf);
  qpdf_oh_replace_key(pdf, root, "/Lang", qpdf_oh_new_unicode_string(pdf, control.language.c_str()));
  const qpdf_oh preferences = qpdf_oh_new_dictionary(pdf);
  qpdf_oh_replace_key(pdf, preferences, "/DisplayDocTitle", qpdf_oh_new_bool(pdf, QPDF_TRUE));
  qpdf_oh_replace_key(pdf, root, "/ViewerPreferences", preferences);
  const std::string text = xmp(control, date);
  const qpdf_oh metadata = qpdf_oh_new_stream(pdf);
  const auto* bytes = reinterpret_cast<const unsigned char*>(text.data());
  qpdf_oh_replace_stream_data(pdf, metadata, bytes, text.size(), qpdf_oh_new_null(pdf), qpdf_oh_new_null(pdf));
  const qpdf_oh dictionary = qpdf_oh_get_dict(pdf, metadata);
  qpdf_oh_replace_key(pdf, dictionary, "/Type", qpdf_oh_new_name(pdf, "/Metadata"));
  qpdf_oh_replace_key(pdf, dictionary, "/Subtype", qpdf_oh_new_name(pdf, "/XML"));
  qpdf_oh_replace_key(pdf, root, "/Metadata", metadata);
  const int pages = qpdf_get_num_pages(pdf);
  for (int page = 0; page < pages; ++page) {
    const qpdf_oh dict = qpdf_get_page_n(pdf, static_cast<size_t>(page));
    qpdf_oh_replace_key(pdf, dict, "/Tabs", qpdf_oh_new_name(pdf, "/S"));
  }
}

struct Closer {
  void operator()(qpdf_data* pdf) const {
    qpdf_cleanup(pdf);
    delete pdf;
  }
};

}  // namespace

std::string day_of(const std::string& bytes) {
  const std::unique_ptr<qpdf_data, Closer> owner(new qpdf_data(qpdf_init()));
  qpdf_silence_errors(*owner);
  qpdf_set_suppress_warnings(*owner, QPDF_TRUE);
  if ((qpdf_read_memory(*owner, "what is there", bytes.data(), bytes.size(), nullptr) & QPDF_ERRORS) != 0) return {};
  const char* creator = qpdf_get_info_key(*owner, "/Creator");
  if (!creator || std::string(creator) != "stepward") return {};
  const char* date = qpdf_get_info_key(*owner, "/ModDate");  // D:20301101000000Z; Cairo 1.16 leaves out the D
  std::string stamp = date ? date : "";
  if (stamp.compare(0, 2, "D:") == 0) stamp.erase(0, 2);
  if (stamp.size() < 8 || stamp.find_first_not_of("0123456789") < 8) return {};
  return stamp.substr(0, 4) + '-' + stamp.substr(4, 2) + '-' + stamp.substr(6, 2);
}

std::string finish(const std::string& bytes, const Control& control, const std::string& date, std::string& why) {
  const std::unique_ptr<qpdf_data, Closer> owner(new qpdf_data(qpdf_init()));
  const qpdf_data pdf = *owner;
  qpdf_silence_errors(pdf);
  qpdf_set_suppress_warnings(pdf, QPDF_TRUE);
  const auto failed = [&](QPDF_ERROR_CODE code) {
    if ((code & QPDF_ERRORS) == 0) return false;
    why = qpdf_has_error(pdf) ? qpdf_get_error_full_text(pdf, qpdf_get_error(pdf)) : "libqpdf cannot read it";
    return true;
  };
  if (failed(qpdf_read_memory(pdf, "the sheet", bytes.data(), bytes.size(), nullptr))) return {};
  add_to_catalogue(pdf, control, date);
  if (failed(qpdf_init_write_memory(pdf))) return {};
  qpdf_set_deterministic_ID(pdf, QPDF_TRUE);
  if (failed(qpdf_write(pdf))) return {};
  return {reinterpret_cast<const char*>(qpdf_get_buffer(pdf)), qpdf_get_buffer_length(pdf)};
}

}  // namespace stepward::emit::pdf
