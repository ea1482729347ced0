//! The procedures that are published.

use crate::procedure::Procedure;
use crate::store::kept::last::Last;
use crate::store::keys::{PROCEDURE, procedure_key};
use crate::store::storage::{Storage, StorageError};
use crate::store::{Store, records};
use std::collections::HashMap;
use std::sync::Arc;

impl<S: Storage> Store<S> {
    /// The procedure with this digest.
    pub fn procedure(&self, digest: &str) -> Result<Option<Procedure>, StorageError> {
        let key = procedure_key(digest);
        match self.storage.get(&key)? {
            Some(text) => records::read_procedure(&key, &text).map(Some),
            None => Ok(None),
        }
    }

    /// Every procedure that can be read, by id and revision.
    pub fn procedures(&self) -> Result<Vec<Procedure>, StorageError> {
        let keys = self.storage.keys()?;
        let digests = keys.iter().filter_map(|key| key.strip_prefix(PROCEDURE));
        let mut procedures: Vec<Procedure> = digests
            .filter_map(|digest| self.procedure(digest).ok().flatten())
            .collect();
        procedures.sort_by(|a, b| (&a.id, a.revision).cmp(&(&b.id, b.revision)));
        Ok(procedures)
    }

    /// Writes a procedure and gives its digest. Costs nothing when it is there already.
    pub fn save_procedure(&self, procedure: &Procedure) -> Result<String, StorageError> {
        let digest = self.store_procedure(procedure)?;
        self.owe(&procedure_key(&digest));
        Ok(digest)
    }

    fn store_procedure(&self, procedure: &Procedure) -> Result<String, StorageError> {
        if let Some(digest) = self.last_digest(procedure)? {
            return Ok(digest);
        }
        let digest = procedure.digest();
        let key = procedure_key(&digest);
        let text = records::procedure_text(procedure);
        match self.storage.get(&key)? {
            // Often the case, so the text is compared before it is understood.
            Some(stored) if stored == text => return Ok(digest),
            Some(stored) if records::read_procedure(&key, &stored).is_ok() => return Ok(digest),
            Some(_) => self.move_aside(&key)?,
            None => {}
        }
        self.write(&key, &text)?;
        Ok(digest)
    }

    /// The digest of a procedure. Costs little for the one of the job saved last.
    pub fn digest(&self, procedure: &Procedure) -> String {
        let known = self.last_digest(procedure).ok().flatten();
        known.unwrap_or_else(|| procedure.digest())
    }

    /// The digest of a procedure, if it is that of the job saved last and still stored.
    fn last_digest(&self, procedure: &Procedure) -> Result<Option<String>, StorageError> {
        let last = self.last();
        let is_its = |last: &&Last| {
            let known: &Procedure = &last.job.procedure;
            std::ptr::eq(known, procedure) || known == procedure
        };
        let Some(last) = last.as_ref().filter(is_its) else {
            return Ok(None);
        };
        let size = self.storage.size(&procedure_key(&last.digest))?;
        Ok((size == Some(last.procedure)).then(|| last.digest.clone()))
    }

    /// Every procedure that can be read, by its digest.
    pub fn procedures_by_digest(&self) -> Result<HashMap<String, Arc<Procedure>>, StorageError> {
        let keys = self.storage.keys()?;
        let digests = keys.iter().filter_map(|key| key.strip_prefix(PROCEDURE));
        let known = digests.filter_map(|digest| {
            let procedure = self.procedure(digest).ok().flatten()?;
            Some((digest.to_owned(), Arc::new(procedure)))
        });
        Ok(known.collect())
    }
}
