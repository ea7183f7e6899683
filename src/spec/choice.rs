//! Words that stand for a choice: each variant of an enum with its word, in one place.

/// An enum whose variants have words in a job.
pub(crate) trait Choice: Copy + 'static {
    /// Every variant with its word, in the order messages list them.
    const WORDS: &'static [(&'static str, Self)];
}

/// Declares an enum together with the words its variants have in a job and in messages.
macro_rules! choice {
    (
        $(#[$doc:meta])*
        $visible:vis enum $name:ident {
            $($(#[$variant_doc:meta])* $variant:ident = $word:literal,)+
        }
    ) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        $visible enum $name {
            $($(#[$variant_doc])* $variant,)+
        }

        impl $crate::spec::Choice for $name {
            const WORDS: &'static [(&'static str, Self)] = &[$(($word, $name::$variant),)+];
        }

        #[allow(dead_code, reason = "not every choice is named in a message")]
        impl $name {
            /// The word for it in jobs and messages.
            #[must_use]
            $visible fn word(self) -> &'static str {
                match self {
                    $($name::$variant => $word,)+
                }
            }
        }
    };
}

pub(crate) use choice;
