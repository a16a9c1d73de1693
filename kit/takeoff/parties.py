"""Who else comes to the job: asked by ordering, which books them, and by the punch list, which walks through their work."""

from kit.takeoff.sheet import Sheet

__all__ = ["hired_parties"]


def hired_parties(sheet: Sheet) -> list[str]:
    """Fabricator and trades that this job needs beside the own crew."""
    scope, plumbing, duties = sheet.job.scope, sheet.job.plumbing, sheet.design.duties
    plumbed = [scope.sink, scope.faucet, scope.strainer]
    if plumbing.disposer == "new":
        plumbed.append(scope.disposer)
    if plumbing.dishwasher:
        plumbed.append(scope.dishwasher)
    topped = [scope.counter, scope.splash, scope.wall_repair]
    found = {
        "fabricator": any(item.renewed and "fabricator" in {item.supplied_by, item.installed_by} for item in (scope.sink, scope.counter, scope.splash)),
        "plumber": duties.plumber or any(item.renewed and item.installed_by == "trade" for item in plumbed),
        "electrician": duties.electrician,
        "other trade": any(item.renewed and item.installed_by == "trade" for item in topped),
        "haulier": scope.haul_away.renewed and scope.haul_away.installed_by == "trade",
    }
    return [name for name, comes in found.items() if comes]
