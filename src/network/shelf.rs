//! Reduced forms of parts, kept for the next setup that has the same part: variants and sweeps meet the same sections again
//! and again.

use std::collections::BTreeMap;
use std::fmt;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use super::reduce::Reduced;
use crate::error::Error;

/// A shelf of solved parts, such as the edges of a box. Every [`Setup`](crate::Setup) has one, shared by its copies: what one
/// forecast solved, the next finds. Hand one shelf to setups that are made apart
/// ([`Setup::with_shelf`](crate::Setup::with_shelf)), and keep it as long as you like; its copies are the same shelf, and
/// threads may share it. No answer depends on what lies on a shelf, so all shelves are equal.
///
/// A part is found again if everything that leads to it is the same to the last digit: sizes, properties, films, mesh,
/// tolerance. It fills a few kilobytes. At most 10 000 are kept; one more, and the shelf is emptied first.
///
/// ```
/// use stillhot::prelude::*;
/// use stillhot::{Edges, Shelf};
/// let pot = Pot::typical(litres(7.0)).with(Dish::named("broth-thin-soup")?, kilograms(6.0));
/// let boards = Enclosure::lined("expanded-cork-board", millimetres(50.0))?.edges(Edges::Solved);
/// let plan = Plan::in_room(celsius(16.0)).shut().serve_after(hours(7.0));
/// let shelf = Shelf::default();
/// let first = Setup::new(pot.clone(), boards.clone())?.with_shelf(&shelf).forecast(&plan)?;
/// let filled = shelf.len();
/// let again = Setup::new(pot, boards)?.with_shelf(&shelf).forecast(&plan)?;
/// assert_eq!(first.at(hours(7.0))?, again.at(hours(7.0))?);
/// assert_eq!(shelf.len(), filled);
/// # Ok::<(), stillhot::Error>(())
/// ```
#[derive(Clone, Default)]
pub struct Shelf {
    kept: Arc<Mutex<BTreeMap<String, Place>>>,
}

/// Where a part lies or will lie: whoever makes it holds the lock, so that it is made once.
type Place = Arc<Mutex<Option<Family>>>;

/// Parts that are made together.
pub(crate) type Family = Arc<Vec<Reduced>>;

/// How many parts are kept.
const MOST: usize = 10_000;

/// One part is a family of its own.
impl From<Reduced> for Vec<Reduced> {
    fn from(one: Reduced) -> Self {
        vec![one]
    }
}

impl Shelf {
    /// The parts kept under this key, made now if there is nothing. The key is the caller's: it must tell apart whatever
    /// leads to other coefficients or another aim - geometry, materials, films, mesh, tolerance, time scales, start fields -
    /// and begin with a word for its kind of part.
    ///
    /// # Errors
    /// Whatever making it meets; nothing is kept then.
    pub(crate) fn get<M: Into<Vec<Reduced>>>(
        &self,
        key: String,
        make: impl FnOnce() -> Result<M, Error>,
    ) -> Result<Family, Error> {
        let place = {
            let mut kept = lock(&self.kept);
            if kept.len() >= MOST && !kept.contains_key(&key) {
                kept.clear();
            }
            Arc::clone(kept.entry(key).or_default())
        };
        // Others that need this part wait for it, and only they.
        let mut place = lock(&place);
        if let Some(kept) = &*place {
            return Ok(Arc::clone(kept));
        }
        Ok(Arc::clone(place.insert(Arc::new(make()?.into()))))
    }

    /// What is kept, with the lengths of its keys.
    fn kept(&self) -> Vec<(usize, Family)> {
        let places: Vec<_> = lock(&self.kept).iter().map(|(key, place)| (key.len(), Arc::clone(place))).collect();
        places.into_iter().filter_map(|(key, place)| Some((key, Arc::clone(lock(&place).as_ref()?)))).collect()
    }

    /// How many parts are kept.
    pub fn len(&self) -> usize {
        self.kept().iter().map(|(_, family)| family.len()).sum()
    }

    /// True if nothing is kept.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The memory that they fill, bytes.
    pub fn bytes(&self) -> usize {
        self.kept().iter().map(|(key, family)| key + family.iter().map(Reduced::bytes).sum::<usize>()).sum()
    }

    /// Empties the shelf.
    pub fn clear(&self) {
        lock(&self.kept).clear();
    }
}

/// What is behind a lock is whole even if another thread died with it: parts go in at once.
fn lock<T>(of: &Mutex<T>) -> MutexGuard<'_, T> {
    of.lock().unwrap_or_else(PoisonError::into_inner)
}

impl PartialEq for Shelf {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl fmt::Debug for Shelf {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Shelf").field("len", &self.len()).field("bytes", &self.bytes()).finish()
    }
}
