using BackHistory.Application.People;
using BackHistory.Service.Configuration;

namespace BackHistory.Service.Erasing;

/// <summary>Where letters land as files on this machine.</summary>
public sealed class LetterFolder(Settings settings) : ILetterFiles
{
    public int Erase(IReadOnlyList<Guid> letters, IReadOnlyList<Guid> about) => LetterFiles.Erase(settings.Mail.Folder, letters, about);
}
