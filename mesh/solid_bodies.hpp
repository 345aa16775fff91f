#pragma once
#include <string>
#include <utility>
#include <vector>

namespace halftool::mesh {

/// Entities of the model as pairs of dimension and tag, as Gmsh has them. Call all of these within
/// GmshSession::run, before the model is synchronised.
using Entities = std::vector<std::pair<int, int>>;

/// Solids of the model.
Entities solids();

/// Refuses a solid that shares more with others than faces which lie on each other do by rounding.
/// @param name  of what is added, as the message begins
/// @param mend  as it ends
/// @throws MeshError  with volume and place
void refuse_overlap(const Entities& standing, const Entities& added, const std::string& name,
                    const std::string& mend);

/// Joins solids that do not overlap to one body where they touch.
/// @param name  of the file, for the message
/// @throws MeshError  two of them overlap, with volume and place
void join_solids(const Entities& bodies, const std::string& name);

/// A line for each body that neither stands on the level of the lowest one nor touches one that does.
std::vector<std::string> note_bodies_in_the_air();

}  // namespace halftool::mesh
