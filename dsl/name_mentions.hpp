// Private to the index of names.
#pragma once

#include "dsl/name_index.hpp"

namespace detent::dsl {

/// Adds every mention in the tree of one of the index's things, in no particular order.
void add_mentions(const Tree& tree, const Sources& sources, NameIndex& index);

}  // namespace detent::dsl
