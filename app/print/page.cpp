#include "app/print/page.hpp"

namespace motherbulb {
namespace {

constexpr std::string_view style = R"(
@page { size: A4; margin: 14mm 12mm }
body { font: 11pt/1.4 "Inter", "Open Sans", sans-serif; color: #24101b; background: #fff; margin: 1.5em auto; max-width: 48em }
h1 { font: 700 22pt/1.2 "Open Sans Condensed", "Open Sans", sans-serif; margin: 0 0 .2em; border-bottom: 3px solid #6c1539 }
h2 { font: 700 14pt/1.3 "Open Sans Condensed", "Open Sans", sans-serif; margin: 1.2em 0 .3em; break-after: avoid }
table { width: 100%; border-collapse: collapse }
th { text-align: left; font-size: 9.5pt; color: #4b3542; border-bottom: 1.5px solid #7d6974; padding: .2em .5em .2em 0 }
td { vertical-align: top; border-bottom: 1px solid #d3dfd2; padding: .35em .5em .35em 0 }
tr { break-inside: avoid }
.box { display: inline-block; width: .95em; height: .95em; border: 1.5px solid #24101b; border-radius: 2px }
.label { font-weight: 600; white-space: nowrap; border: 1.5px solid #24101b; border-right: 0; padding: 0 .4em;
  border-radius: 3px 0 0 3px; position: relative; margin-right: .7em; display: inline-block; line-height: 1.35em }
.label::after { content: ""; position: absolute; right: -.46em; top: .2em; width: .92em; height: .92em;
  border: solid #24101b; border-width: 1.5px 1.5px 0 0; transform: rotate(45deg); background: #fff }
.late { font-weight: 600; color: #762b0a }
.quiet { color: #4b3542 }
)";

}  // namespace

std::string html_escape(std::string_view text) {
  std::string safe;
  for (const char c : text) {
    switch (c) {
      case '&':
        safe += "&amp;";
        break;
      case '<':
        safe += "&lt;";
        break;
      case '>':
        safe += "&gt;";
        break;
      case '"':
        safe += "&quot;";
        break;
      case '\'':
        safe += "&#39;";
        break;
      default:
        safe += c;
    }
  }
  return safe;
}

std::string page(const std::string& title, const std::string& body) {
  return "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
         "content=\"width=device-width\">\n<title>" +
         html_escape(title) + "</title>\n<style>" + std::string(style) + "</style>\n</head>\n<body>\n" + body +
         "</body>\n</html>\n";
}

}  // namespace motherbulb
