//! Faces: the bundled ones and those a job brings, found by role, family or the job's own name.
//!
//! Only this room knows the libraries that read font files.

mod bundled;
mod face;
mod measure;
mod shaping;
#[cfg(test)]
mod tests;

pub(crate) use face::{Face, Glyph, Rights};
pub(crate) use shaping::ShapingOptions;

use std::{borrow::Cow, sync::OnceLock};

/// A face in [`Faces`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct FaceId(pub(crate) u16);

/// All faces a job can use. Bundled ones are read when first used.
#[derive(Debug)]
pub(crate) struct Faces {
    bundled: Vec<OnceLock<Option<Face>>>,
    own: Vec<Face>,
}

/// Why a job's font file cannot be used, as what is said of the file.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub(crate) enum NotAFace {
    /// The bytes are no font.
    #[error("is not a TrueType or OpenType font")]
    NotAFont,
    /// The file ends before its tables do.
    #[error("ends too early; copy or fetch it again")]
    CutShort,
    /// The file has fewer faces than the number asked for.
    #[error("holds {}; face {index} was asked for", numbered(*faces))]
    NoSuchFace {
        /// The face asked for, from 0.
        index: u32,
        /// How many there are.
        faces: u32,
    },
    /// The face is variable: its letters depend on axes nobody has set.
    #[error("is a variable font; save the weight you want as a font of its own and name that")]
    Variable,
    /// The file allows bitmaps of its letters only.
    #[error(
        "says that only bitmaps of it may be embedded (fsType bit 9); \
         if its licence allows outlines all the same, say so in the job"
    )]
    BitmapsOnly,
    /// The name is a role or a family of a bundled face, or another file's.
    #[error("has the name of another face; give it another name")]
    NameTaken,
    /// More faces than can be numbered.
    #[error("is one font too many; a job can use 60,000")]
    TooMany,
}

fn numbered(faces: u32) -> String {
    match faces {
        1 => "one face, number 0".to_owned(),
        faces => format!("{faces} faces, numbered from 0"),
    }
}

impl Faces {
    /// The faces built into the program.
    #[must_use]
    pub(crate) fn bundled() -> Faces {
        let bundled = bundled::faces().iter().map(|_| OnceLock::new()).collect();
        Faces { bundled, own: Vec::new() }
    }

    /// The face of a role (`label`, `wire`), a family, or a name the job gave a file.
    ///
    /// Upper and lower case are alike; a family with several cuts is its first one in the manifest, and
    /// `Family Cut` picks another.
    #[must_use]
    pub(crate) fn find(&self, name: &str) -> Option<FaceId> {
        let name = name.trim();
        let same = |other: &str| other.to_lowercase() == name.to_lowercase();
        let bundled = || bundled::faces().iter();
        let at = bundled()
            .position(|face| same(&face.role))
            .or_else(|| bundled().position(|face| same(&face.family)))
            .or_else(|| bundled().position(|face| same(&format!("{} {}", face.family, face.cut))))
            .or_else(|| {
                let own = self.own.iter().position(|face| same(face.name()));
                let own = own.or_else(|| self.own.iter().position(|face| same(face.family())));
                own.map(|at| at + self.bundled.len())
            });
        at.and_then(|at| u16::try_from(at).ok()).map(FaceId)
    }

    /// Every name [`Faces::find`] knows a face by, roles first, for suggesting one that was meant.
    #[must_use]
    pub(crate) fn names(&self) -> Vec<String> {
        let roles = bundled::faces().iter().map(|face| face.role.as_str());
        let families = bundled::faces().iter().map(|face| face.family.as_str());
        let own = self.own.iter().flat_map(|face| [face.name(), face.family()]);
        let mut names: Vec<String> = Vec::new();
        for name in roles.chain(families).chain(own) {
            if !names.iter().any(|known| known == name) {
                names.push(name.to_owned());
            }
        }
        names
    }

    /// Adds a job's own font file under a name; `index` picks a face of a collection, from 0.
    ///
    /// A file whose licence bits ask for the maker's leave is taken; [`Faces::licence_note`] says so.
    ///
    /// # Errors
    /// [`NotAFace`], to be read after the file's name.
    pub(crate) fn add(
        &mut self,
        name: &str,
        bytes: Vec<u8>,
        index: u32,
    ) -> Result<FaceId, NotAFace> {
        if self.find(name).is_some() {
            return Err(NotAFace::NameTaken);
        }
        let at = u16::try_from(self.bundled.len() + self.own.len());
        let Some(id) = at.ok().filter(|at| *at < 60_000).map(FaceId) else {
            return Err(NotAFace::TooMany);
        };
        let face = Face::read(name, Cow::Owned(bytes), index, Vec::new())?;
        if face.rights() == Rights::BitmapsOnly {
            return Err(NotAFace::BitmapsOnly);
        }
        self.own.push(face);
        Ok(id)
    }

    /// The face; `None` only for an id of other `Faces`.
    #[must_use]
    pub(crate) fn face(&self, id: FaceId) -> Option<&Face> {
        let at = usize::from(id.0);
        let Some(bundled) = bundled::faces().get(at) else {
            return self.own.get(at - self.bundled.len());
        };
        let read =
            || Face::read(&bundled.role, Cow::Borrowed(bundled.bytes()), 0, bundled.alike()).ok();
        self.bundled.get(at)?.get_or_init(read).as_ref()
    }

    /// What is to be said about using a job's own font, if anything.
    #[must_use]
    pub(crate) fn licence_note(&self, id: FaceId) -> Option<&'static str> {
        let at = usize::from(id.0).checked_sub(self.bundled.len())?;
        let face = self.own.get(at)?;
        (face.rights() != Rights::Free).then_some(
            "its maker restricts embedding (fsType 2): outlines are used; check that its licence allows it",
        )
    }

    /// The bundled face that stands in for letters a face lacks.
    #[must_use]
    pub(crate) fn fallback(&self) -> FaceId {
        FaceId(bundled::FALLBACK)
    }

    /// The bundled face that stands in for signs a face lacks.
    #[must_use]
    pub(crate) fn symbols(&self) -> FaceId {
        FaceId(bundled::SYMBOLS)
    }

    /// The bundled faces one may ask for by role: all but the two that only stand in.
    pub(crate) fn roles(&self) -> impl Iterator<Item = FaceId> + '_ {
        (0..bundled::FALLBACK).map(FaceId)
    }
}
