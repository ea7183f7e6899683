//! The same work on many things, on all cores, with results in the order of the things.

use std::num::NonZero;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// Fewer things than this are not worth a thread.
const WORTH_A_THREAD: usize = 8;

/// What `work` makes of each of `things`, in their order whatever the number of cores.
pub(crate) fn in_order<T: Sync, R: Send>(things: &[T], work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    in_order_with(things, || (), |(), thing| work(thing))
}

/// The same with a tool that each worker makes for itself and keeps: one that takes long to make.
pub(crate) fn in_order_with<T: Sync, W, R: Send>(
    things: &[T],
    tool: impl Fn() -> W + Sync,
    work: impl Fn(&mut W, &T) -> R + Sync,
) -> Vec<R> {
    let cores = thread::available_parallelism().map_or(1, NonZero::get);
    let workers = cores.min(things.len() / WORTH_A_THREAD + 1);
    if workers == 1 {
        let mut tool = tool();
        return things.iter().map(|thing| work(&mut tool, thing)).collect();
    }
    let next = AtomicUsize::new(0);
    let take = || {
        let (mut tool, mut done) = (tool(), Vec::new());
        loop {
            let at = next.fetch_add(1, Ordering::Relaxed);
            let Some(thing) = things.get(at) else { return done };
            done.push((at, work(&mut tool, thing)));
        }
    };
    let mut done: Vec<(usize, R)> = thread::scope(|scope| {
        let helpers: Vec<_> = (1..workers).map(|_| scope.spawn(take)).collect();
        let mut done = take();
        for helper in helpers {
            match helper.join() {
                Ok(more) => done.extend(more),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
        done
    });
    done.sort_unstable_by_key(|(at, _)| *at);
    done.into_iter().map(|(_, result)| result).collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn results_keep_the_order_of_the_things() {
        let things: Vec<u64> = (0..1000).collect();
        // Early things take longest, so that they finish late.
        let work = |thing: &u64| {
            let slow = (0..(1000 - thing) * 50).fold(0, |sum: u64, n| sum.wrapping_add(n));
            std::hint::black_box(slow);
            thing * 2
        };
        let expected: Vec<u64> = things.iter().map(|thing| thing * 2).collect();
        assert_eq!(super::in_order(&things, work), expected);
    }
}
