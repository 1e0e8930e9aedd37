//! Reduced forms kept for the next setup that has the same part: sweeps meet the same sections again and again.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use super::reduce::Reduced;
use crate::error::Error;

/// A shelf of reduced forms. It is filled and asked by those who hold it, nothing is kept behind their backs. The key is
/// theirs, too: it must tell apart whatever leads to other coefficients or another aim - geometry, materials, films, mesh,
/// tolerance, time scales, start fields.
#[derive(Debug)]
pub(crate) struct Shelf<K> {
    kept: Mutex<BTreeMap<K, Arc<Reduced>>>,
}

impl<K> Default for Shelf<K> {
    fn default() -> Self {
        Shelf { kept: Mutex::new(BTreeMap::new()) }
    }
}

impl<K: Ord> Shelf<K> {
    /// What is kept under this key, made now if there is nothing.
    ///
    /// # Errors
    /// Whatever making it meets; nothing is kept then.
    pub(crate) fn get(&self, key: K, make: impl FnOnce() -> Result<Reduced, Error>) -> Result<Arc<Reduced>, Error> {
        // The map is whole even if another thread died with the lock: entries go in at once.
        let lock = || self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(kept) = lock().get(&key) {
            return Ok(Arc::clone(kept));
        }
        // Made without the lock, so that others need not wait; who comes second takes what the first one put there.
        let made = Arc::new(make()?);
        Ok(Arc::clone(lock().entry(key).or_insert(made)))
    }

    /// How many forms are kept, and the memory they fill, bytes.
    pub(crate) fn size(&self) -> (usize, usize) {
        let kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        (kept.len(), kept.values().map(|reduced| reduced.bytes()).sum())
    }

    /// Empties the shelf.
    pub(crate) fn clear(&self) {
        self.kept.lock().unwrap_or_else(PoisonError::into_inner).clear();
    }
}
