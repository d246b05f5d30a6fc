"""Speed on this machine, in one run, as ratios: a number from another day or machine says nothing."""


def marked(value: float, target: float, *, at_least: bool) -> str:
    """A figure beside its target, and in words whether it was met."""
    met = value >= target if at_least else value <= target
    return f"{value:.2f} (target {'>=' if at_least else '<='} {target:g}: {'met' if met else 'NOT met'})"
