using BackHistory.Service.Configuration;
using BackHistory.Service.Erasing;
using BackHistory.Service.Jobs;
using BackHistory.Store.Accounts;
using Hangfire;

namespace BackHistory.Service.Access.Letters;

/// <summary>Writes and sends one letter about an account.</summary>
public sealed class AccountLetterJob(
    AccountDocuments accounts,
    Invitations invitations,
    BackHistory.Store.Practices.PracticeQueries practices,
    AccountLinks links,
    AccountPost post,
    MailSender mail,
    Settings settings,
    TimeProvider time
)
{
    /// <param name="number">The letter's own: a repeat carries the same message id.</param>
    [Queue(JobQueues.Letters)]
    [AutomaticRetry(Attempts = 8)]
    public async Task Run(Guid number, AccountLetter letter, Guid id, string? about, string? to, CancellationToken ct)
    {
        var written = letter is AccountLetter.Invitation or AccountLetter.Shared
            ? await Invite(id, ct)
            : await Write(letter, id, post.Open(about), post.Open(to), ct);
        if (written is not { } w)
            return;
        await using var way = await mail.Open(ct);
        await way.Send(Message(number, id, w.To, w.Subject, w.Text), ct);
    }

    private async Task<(string To, string Subject, string Text)?> Invite(Guid id, CancellationToken ct)
    {
        if (await invitations.Load(id, ct) is not { } invitation || !invitation.Open(time.GetUtcNow()))
            return null;
        var practice = await practices.Load(invitation.Practice, ct);
        var (subject, text) = AccountLetterWords.Of(
            invitation.GrantId is null ? AccountLetter.Invitation : AccountLetter.Shared,
            invitation.Language,
            links.Accept(invitation),
            practice?.Name
        );
        return (invitation.Email, subject, text);
    }

    private async Task<(string To, string Subject, string Text)?> Write(
        AccountLetter letter,
        Guid id,
        string? about,
        string? to,
        CancellationToken ct
    )
    {
        if (await accounts.Load(id, ct) is not { } account)
            return null;
        var link = letter switch
        {
            AccountLetter.NewPassword => links.NewPassword(account),
            AccountLetter.ConfirmAddress => links.ConfirmAddress(account, to!),
            _ => null,
        };
        var (subject, text) = AccountLetterWords.Of(letter, account.Language, link, about);
        return (to ?? account.Email, subject, text);
    }

    private MimeKit.MimeMessage Message(Guid number, Guid id, string to, string subject, string text)
    {
        var message = new MimeKit.MimeMessage
        {
            MessageId = $"{number:N}@{settings.Mail.Domain}",
            Subject = subject,
            Date = time.GetUtcNow(),
            Body = new MimeKit.TextPart("plain") { Text = text },
            From = { new MimeKit.MailboxAddress("BackHistory", settings.Mail.From) },
            To = { new MimeKit.MailboxAddress(null, to) },
        };
        message.Headers.Add(LetterFiles.AboutHeader, LetterFiles.About(id));
        message.Headers.Add("Auto-Submitted", "auto-generated");
        return message;
    }
}
