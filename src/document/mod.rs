//! Text files that people write: sections of keys, every finding with file, line and key, and the names nearest to
//! one that is not known.

mod log;
mod nearest;
mod reader;

pub(crate) use log::read_log;
pub(crate) use nearest::nearest;
pub(crate) use reader::{File, Item, Section, placed};
