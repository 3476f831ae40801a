namespace BackHistory.Application.Letters;

/// <summary>How letters leave this service.</summary>
public interface IMailSender
{
    /// <summary>The way out, in words for a page.</summary>
    string Way { get; }

    /// <summary>The address that letters come from.</summary>
    string From { get; }

    /// <summary>The same for every attempt at a letter, so that its reader's program shows one.</summary>
    string MessageIdOf(Guid letterId);

    /// <summary>Opens the way; letters go over it one after another.</summary>
    /// <exception cref="MailUnreachableException">It is closed for all letters.</exception>
    Task<IMailTransport> Open(CancellationToken ct);
}
