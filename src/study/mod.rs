//! What difference does it make? Setups and plans varied, computed on shared meshes and steps, and ranked.
