//! Faces: the bundled ones and those a job brings, found by role, family or the job's own name.

/// A face in [`Faces`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FaceId(pub(crate) u16);

/// All faces a job can use.
#[derive(Debug)]
pub struct Faces {}

impl Faces {
    /// The faces built into the program.
    #[must_use]
    pub fn bundled() -> Faces {
        Faces {}
    }

    /// The face of a role (`label`, `wire`), a family, or a name the job gave a file.
    #[must_use]
    pub fn find(&self, _name: &str) -> Option<FaceId> {
        None
    }
}
