from __future__ import annotations

from hypothesis import Phase, settings

# The same examples on every run and every machine, and no clock: a slow machine fails no test. Without the phase
# that explains a failure, which takes minutes over openings of this size and hides the values.
settings.register_profile(
    "ci",
    derandomize=True,
    deadline=None,
    print_blob=True,
    phases=(Phase.explicit, Phase.generate, Phase.target, Phase.shrink),
)
settings.load_profile("ci")
