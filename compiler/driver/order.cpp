// `stepward order`: the orders that were found for lines which may change places, and why others are out.

#include <algorithm>

#include "diagnostics/render.hpp"
#include "driver/commands.hpp"
#include "driver/disk.hpp"
#include "driver/order_text.hpp"
#include "driver/pipeline.hpp"

namespace stepward::driver {

Outcome order_command(const OrderRequest& request, const Host& host) {
  const Patience patience(host, "looking for orders of " + request.file);
  const Compilation made = read_alone(request.file, FilesOnDisk(request.file), request.today.empty() ? host.today : request.today);
  const std::string findings = diagnostics::as_text(made.findings, made.files, {});
  if (made.unreadable) return {ExitCode::file_trouble, "", findings};
  if (!made.protocol) return {ExitCode::findings, "", findings + "stepward: no order was looked for: what was found above has to be mended first\n"};
  const bool all = std::all_of(made.orders.begin(), made.orders.end(), [](const order::Settled& s) {
    return s.outcome == order::Settled::Outcome::found || s.outcome == order::Settled::Outcome::never_reached;
  });
  return {all ? ExitCode::fine : ExitCode::findings, request.as_json ? orders_as_json(made) : orders_as_text(made), ""};
}

}  // namespace stepward::driver
