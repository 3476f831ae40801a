using BackHistory.Store.Accounts;

namespace BackHistory.Service.Access.Me;

/// <param name="Most">What the key may do at most: read-only, apprentice (enter), fitter or manager; never more than its owner.</param>
/// <param name="Days">1 to 365.</param>
public sealed record KeyRequest(string Label, PracticeRole Most, int Days);
