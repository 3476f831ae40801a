using BackHistory.Store.Archives;

namespace BackHistory.Service.Archives;

/// <param name="Next">Pass as <c>after</c> to go on; always given, since there will be more.</param>
/// <param name="More">Whether there is more already.</param>
public sealed record ChangesAnswer(IReadOnlyList<ArchivedEvent> Events, string Next, bool More);
