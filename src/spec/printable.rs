//! Where a sheet may be printed: the one place that knows it.

use super::{Margins, Spec};
use kurbo::{Rect, Size};

impl Spec {
    /// Where the job's sheets may be printed, mm from the paper's top left corner; empty when the margins leave
    /// nothing.
    #[must_use]
    pub fn printable(&self) -> Rect {
        self.printable_on(self.sheet.paper.size)
    }

    /// The same on another paper, with the job's own margins and printer.
    ///
    /// A printer's profile stretches the page about its middle, so that only the part which is still inside the
    /// margins afterwards may be printed.
    #[must_use]
    pub fn printable_on(&self, paper: Size) -> Rect {
        let inside = self.sheet.margins.inside(paper);
        self.printer.profile.as_ref().map_or(inside, |profile| profile.keeps_inside(inside, paper))
    }
}

impl Margins {
    /// The part of a page inside them; empty when they leave nothing.
    fn inside(self, page: Size) -> Rect {
        let right = (page.width - self.right).max(self.left);
        let bottom = (page.height - self.bottom).max(self.top);
        Rect::new(self.left, self.top, right, bottom)
    }
}
