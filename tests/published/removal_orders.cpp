#include "removal_orders.hpp"

namespace stepward::published {

// Where a list says "PAPR, hood" the unit counts as one item, as in the matrix. Where a list says "disinfect and take off",
// the cleaning behind the removal before it is the same cleaning, as in the matrix's counts.
const std::vector<Order>& full_sets() {
  static const std::vector<Order> orders = {
      {"powered hood and gown, October 2014",
       "CDC, Guidance on PPE for US hospitals, 20 October 2014; list from memory, training pages doffing 02, 09 to 12, 17 read",
       Mark::memory_high, "clogs, boot covers, inner gloves, gown, plastic apron, outer gloves, powered hood",
       {"enter", "look gown", "look outer gloves", "hh", "off plastic apron", "look gown", "hh", "off boot covers", "hh", "off outer gloves",
        "look inner gloves", "hh", "off powered hood", "hh", "off gown", "hh", "wipe clogs", "hh", "off inner gloves", "rub", "look scrubs", "leave"},
       false, "CDC-EVD14-PAPR", 7, 8, "layered-exit-boots-first"},
      {"respirator and gown, October 2014",
       "CDC, Guidance on PPE for US hospitals, 20 October 2014; list from memory, training pages doffing 01, 08, 16 read",
       Mark::memory_high, "clogs, boot covers, inner gloves, gown, plastic apron, respirator, cloth hood, face shield, outer gloves",
       {"enter", "look gown", "look outer gloves", "hh", "off plastic apron", "look gown", "hh", "off boot covers", "hh", "off outer gloves",
        "look inner gloves", "hh", "off face shield", "hh", "off cloth hood", "hh", "off gown", "hh", "off inner gloves", "rub", "don inner gloves",
        "off respirator", "hh", "wipe clogs", "hh", "off inner gloves", "rub", "look scrubs", "leave"},
       false, "CDC-EVD14-N95", 10, 11, "layered-exit-boots-first"},
      {"powered hood and gown, August 2015",
       "CDC guidance revised 27 August 2015; the five changes read in a trade page of July 2016, full list from memory",
       Mark::memory_medium, "clogs, boot covers, inner gloves, gown, plastic apron, outer gloves, powered hood",
       {"enter", "look gown", "hh", "off plastic apron", "look gown", "hh", "off outer gloves", "look inner gloves", "hh", "off powered hood", "hh",
        "off gown", "hh", "off boot covers", "hh", "off inner gloves", "rub", "don inner gloves", "wipe clogs", "hh", "off inner gloves", "rub",
        "look scrubs", "leave"},
       false, "CDC-EVD15-PAPR", 8, 9, "layered-exit-boots-last"},
      {"respirator and gown, August 2015",
       "CDC guidance revised 27 August 2015; the five changes read in a trade page of July 2016, full list from memory",
       Mark::memory_medium, "clogs, boot covers, inner gloves, gown, plastic apron, respirator, cloth hood, face shield, outer gloves",
       {"enter", "look gown", "hh", "off plastic apron", "look gown", "hh", "off outer gloves", "look inner gloves", "hh", "off face shield", "hh",
        "off cloth hood", "hh", "off gown", "hh", "off boot covers", "hh", "off inner gloves", "rub", "don inner gloves", "off respirator", "hh",
        "wipe clogs", "hh", "off inner gloves", "rub", "look scrubs", "leave"},
       false, "CDC-EVD15-N95", 10, 11, "layered-exit-boots-last"},
      {"coverall training set with respirator",
       "CDC one-step-a-page training set; pages doffing 04, 08, 18 (respirator) and 12, 14, 21 (powered hood) read, the rest reconstructed",
       Mark::reconstructed, "clogs, boot covers, inner gloves, coverall, plastic apron, respirator, cloth hood, face shield, outer gloves",
       {"enter", "look coverall", "hh", "off plastic apron", "look coverall", "hh", "off outer gloves", "look inner gloves", "hh", "off face shield", "hh",
        "off cloth hood", "hh", "off coverall", "hh", "off boot covers", "hh", "off inner gloves", "rub", "don inner gloves", "off respirator", "hh",
        "wipe clogs", "hh", "off inner gloves", "rub", "look scrubs", "leave"},
       false, "CDC-TRAIN-cover-N95", 10, 11, "layered-exit-boots-last"},
      {"gown poster with head cover", "WHO, Steps to take off PPE including gown, 2014-2015; from memory", Mark::memory_medium,
       "rubber boots, inner gloves, gown, face mask, face shield, head and neck cover, plastic apron, outer gloves",
       {"enter", "hh", "off plastic apron", "hh", "off outer gloves", "hh", "off head and neck cover", "hh", "off gown", "hh", "off face shield", "hh",
        "off face mask", "hh", "off rubber boots", "hh", "off inner gloves", "rub", "leave"},
       true, "WHO-gown", 8, 9, "layered-exit-head-cover-first"},
      {"coverall poster with head cover", "WHO, Steps to take off PPE including coverall, 2014-2015; from memory", Mark::memory_high,
       "rubber boots, inner gloves, coverall, face mask, face shield, head and neck cover, plastic apron, outer gloves",
       {"enter", "hh", "off plastic apron", "hh", "off head and neck cover", "hh", "off coverall & outer gloves", "hh", "off face shield", "hh",
        "off face mask", "hh", "off rubber boots", "hh", "off inner gloves", "rub", "leave"},
       true, "WHO-coverall", 7, 8, "layered-exit-head-cover-first"},
      {"field order, 2014",
       "CDC order for West Africa as drawn in a newspaper graphic of October 2014; read in that account, the basin at the start counts as cleaning",
       Mark::read_in_another, "clogs, boot covers, inner gloves, gown, respirator, face shield, cap, plastic apron, outer gloves",
       {"enter", "hh", "off outer gloves", "hh", "off plastic apron", "hh", "off gown", "hh", "off boot covers", "hh", "off cap", "hh", "wipe clogs",
        "hh", "off inner gloves", "rub", "off face shield", "rub", "off respirator", "rub", "leave"},
       true, "CDC-Africa-2014", 8, 9, "layered-exit-bare-hands-at-the-face"},
  };
  return orders;
}

const std::vector<Order>& basic_sheets() {
  static const std::vector<Order> orders = {
      {"basic sheet, example 1",
       "CDC, How to safely remove PPE, example 1 (sheet of about 2014); read in two teaching pages; the respirator waits for the door, from memory",
       Mark::read_in_another, "clogs, gown, respirator, face shield, single gloves",
       {"off single gloves", "off face shield", "off gown", "exit", "off respirator", "rub"}, false, "CDC-basic-ex1", 4, 1,
       "basic-precautions, basic-eye-cover-inside", true},
      {"basic sheet, example 2", "CDC, How to safely remove PPE, example 2 (sheet of about 2014); from memory", Mark::memory_high,
       "clogs, gown, respirator, face shield, single gloves",
       {"off gown & single gloves", "off face shield", "exit", "off respirator", "rub"}, false, "CDC-basic-ex2", 3, 1, "basic-precautions", true},
      {"order of 2020", "CDC order for COVID-19 as cited in a journal's table; read in that account", Mark::read_in_another,
       "clogs, gown, respirator, face shield, single gloves",
       {"off single gloves", "off gown", "exit", "rub", "off face shield", "off respirator", "rub"}, false, "CDC-covid-2020", 4, 2,
       "basic-precautions, basic-eye-cover-outside"},
      {"provincial sheet", "Public Health Ontario, order of removal; read in two other accounts, one of which shows the first four steps; where the door comes is not said",
       Mark::read_in_another, "clogs, gown, face mask, face shield, single gloves",
       {"off single gloves", "off gown", "rub", "off face shield", "off face mask", "rub", "exit"}, false, "", 4, 2, "basic-precautions"},
      {"droplet order, 2020", "PHE guidance for droplet precautions, 2020; read in two other accounts", Mark::read_in_another,
       "clogs, plastic apron, face mask, face shield, single gloves",
       {"off single gloves", "rub", "off plastic apron", "exit", "off face shield", "rub", "off face mask", "soap"}, false, "UK-droplet-2020", 4, 3,
       "basic-precautions, basic-eye-cover-outside"},
  };
  return orders;
}

std::vector<Order> all_removal_orders() {
  std::vector<Order> out = basic_sheets();
  out.insert(out.end(), full_sets().begin(), full_sets().end());
  return out;
}

}  // namespace stepward::published
