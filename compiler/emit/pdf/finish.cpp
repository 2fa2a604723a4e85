#include "emit/pdf/finish.hpp"

#define POINTERHOLDER_TRANSITION 4  // libqpdf 11 asks which pointers its user means; std::shared_ptr only
#include <qpdf/Buffer.hh>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFPageDocumentHelper.hh>
#include <qpdf/QPDFWriter.hh>

#include <exception>

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
         "<rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\" xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\">\n"
         "<dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">" + escaped(control.title + " – " + control.kind) + "</rdf:li></rdf:Alt></dc:title>\n"
         "<dc:identifier>" + escaped(control.code) + "</dc:identifier>\n"
         "<dc:language><rdf:Bag><rdf:li>" + escaped(control.language) + "</rdf:li></rdf:Bag></dc:language>\n"
         "<xmp:CreateDate>" + date + "</xmp:CreateDate>\n"
         "</rdf:Description></rdf:RDF></x:xmpmeta>\n<?xpacket end=\"r\"?>";
}

void add_to_catalogue(QPDF& pdf, const Control& control, const std::string& date) {
  QPDFObjectHandle root = pdf.getRoot();
  root.replaceKey("/Lang", QPDFObjectHandle::newString(control.language));
  QPDFObjectHandle preferences = QPDFObjectHandle::newDictionary();
  preferences.replaceKey("/DisplayDocTitle", QPDFObjectHandle::newBool(true));
  root.replaceKey("/ViewerPreferences", preferences);
  QPDFObjectHandle metadata = QPDFObjectHandle::newStream(&pdf, xmp(control, date));
  metadata.getDict().replaceKey("/Type", QPDFObjectHandle::newName("/Metadata"));
  metadata.getDict().replaceKey("/Subtype", QPDFObjectHandle::newName("/XML"));
  root.replaceKey("/Metadata", pdf.makeIndirectObject(metadata));
  for (auto& page : QPDFPageDocumentHelper(pdf).getAllPages()) {
    page.getObjectHandle().replaceKey("/Tabs", QPDFObjectHandle::newName("/S"));
  }
}

}  // namespace

std::string finish(const std::string& bytes, const Control& control, const std::string& date, std::string& why) {
  try {
    QPDF pdf;
    pdf.processMemoryFile("the sheet", bytes.data(), bytes.size());
    add_to_catalogue(pdf, control, date);
    QPDFWriter writer(pdf);
    writer.setOutputMemory();
    writer.setDeterministicID(true);
    writer.write();
    const auto buffer = writer.getBufferSharedPointer();
    return {reinterpret_cast<const char*>(buffer->getBuffer()), buffer->getSize()};
  } catch (const std::exception& problem) {
    why = problem.what();
    return {};
  }
}

}  // namespace stepward::emit::pdf
