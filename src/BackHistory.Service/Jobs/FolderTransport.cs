using BackHistory.History.Reminders;
using BackHistory.Service.Configuration;
using BackHistory.Service.Store;
using MimeKit;

namespace BackHistory.Service.Jobs;

/// <summary>As files into a folder, for whoever has no mail server.</summary>
internal sealed class FolderTransport(string folder, MailSettings mail) : MailTransport(mail)
{
    public const string Through = Letter.AsFile;

    public override async Task<string> Send(MimeMessage message, CancellationToken ct)
    {
        // Named by its message id and moved into place whole: written twice it is still one letter.
        var name = Path.Combine(folder, message.MessageId!.Split('@')[0] + ".eml");
        var half = $"{name}.{Guid.NewGuid():N}.tmp";
        await using (var file = ClosedFiles.NewFile(half))
            await message.WriteToAsync(file, ct);
        File.Move(half, name, overwrite: true);
        return Through;
    }

    public override ValueTask DisposeAsync() => ValueTask.CompletedTask;
}
