//! The shelves of the catalogue.

use std::fmt;

/// What kind of material it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Category {
    /// Cellular plastics and cellular glass.
    InsulationFoam,
    /// Aerogel blankets, vacuum panels.
    InsulationOther,
    /// Fibre batts and boards, straw, hay, paper, cork, granular fill.
    FibreAndLooseFill,
    /// Cloth, felt, towels.
    Fabric,
    /// Still gases and air layers as an equivalent conductivity.
    Gas,
    /// Timber and wood-based boards.
    WoodAndBoard,
    /// Metals.
    Metal,
    /// Glass, glazed ware, enamel, fired clay.
    CeramicAndGlass,
    /// Solid plastics and rubbers.
    Polymer,
    /// Water, ice, dishes.
    FoodAndLiquid,
    /// Masonry, plaster, earth, sand, stone.
    Building,
}

impl Category {
    pub(crate) const WORDS: [(&'static str, Category); 11] = [
        ("insulation-foam", Category::InsulationFoam),
        ("insulation-other", Category::InsulationOther),
        ("fibre-and-loose-fill", Category::FibreAndLooseFill),
        ("fabric", Category::Fabric),
        ("gas", Category::Gas),
        ("wood-and-board", Category::WoodAndBoard),
        ("metal", Category::Metal),
        ("ceramic-and-glass", Category::CeramicAndGlass),
        ("polymer", Category::Polymer),
        ("food-and-liquid", Category::FoodAndLiquid),
        ("building", Category::Building),
    ];

    /// Every category, in the order of the catalogue.
    pub fn all() -> impl Iterator<Item = Category> {
        Self::WORDS.iter().map(|(_, category)| *category)
    }
}

impl fmt::Display for Category {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let word = Self::WORDS.iter().find(|(_, category)| category == self).map_or("other", |(word, _)| word);
        f.write_str(word)
    }
}
