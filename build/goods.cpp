// SPDX-License-Identifier: MIT
#include "build/goods.h"

#include "build/toml_reader.h"

namespace ww::build {

std::vector<Goods> read_goods(NamedBytes file, Errors& errors) {
  std::vector<Goods> out;
  ReadContext context{std::string(file.name), &errors};
  toml::table root;
  if (!parse_toml(context, file.bytes, root)) return out;
  for (const char* kind : {"tool", "small_part"}) {
    const toml::array* list = root[kind].as_array();
    if (list == nullptr) continue;
    for (const auto& node : *list) {
      const toml::table* table = node.as_table();
      if (table == nullptr) continue;
      const auto text = [&](const char* key) {
        return (*table)[key].value<std::string>().value_or("");
      };
      const auto number = [&](const char* key) {
        return (*table)[key].value<double>().value_or(-1);
      };
      Goods goods{.tool = std::string_view(kind) == "tool",
                  .id = text("id"),
                  .name = text("name"),
                  .task = text("task"),
                  .needed = text("needed"),
                  .when = text("when"),
                  .group = text("group"),
                  .price_low = number("price_low"),
                  .price_usual = number("price_usual")};
      if (goods.id.empty() || goods.name.empty() || goods.price_low < 0 ||
          goods.price_usual < goods.price_low) {
        report(context, node.source(),
               {.code = "bad-goods",
                .what = "a tool or small part needs id, name, price_low and price_usual",
                .found = goods.id});
        continue;
      }
      out.push_back(std::move(goods));
    }
  }
  return out;
}

}  // namespace ww::build
