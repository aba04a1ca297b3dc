//! A compiled handbook as bytes.
//!
//! The built-in handbook is compiled when the program is built; a start only unpacks it.

use super::Handbook;
use super::model::Parts;

impl Handbook {
    /// Its tables as bytes; none if they hold what can't be packed.
    #[must_use]
    pub fn pack(&self) -> Option<Vec<u8>> {
        postcard::to_allocvec(self.parts()).ok()
    }

    /// The handbook behind bytes that [`pack`](Self::pack) of the same version of this program
    /// gave; none if they are no such bytes. What the tables say is not checked again.
    #[must_use]
    pub fn unpack(bytes: &[u8]) -> Option<Self> {
        let (parts, rest): (Parts, _) = postcard::take_from_bytes(bytes).ok()?;
        rest.is_empty().then(|| Self::new(parts))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bytes_that_are_no_handbook_give_none() {
        assert!(Handbook::unpack(&[]).is_none());
        assert!(Handbook::unpack(&[255; 40]).is_none());
    }
}
