using System.Collections.Concurrent;
using BackHistory.Application.Letters;
using BackHistory.History.Reminders;

namespace BackHistory.Application.Tests;

/// <summary>A way out that ends in memory, and takes letters as it is told.</summary>
internal sealed class MemoryMail : IMailSender, IMailTransport
{
    private readonly ConcurrentQueue<LetterContent> _sent = new();

    /// <summary>What happens to a letter before it is taken; whatever this throws is its fate.</summary>
    public Action<LetterContent> Taking { get; set; } = _ => { };

    public string Way => "in memory";

    public string From => "practice@backhistory.invalid";

    /// <summary>In the order in which they left.</summary>
    public IReadOnlyList<LetterContent> Sent => [.. _sent];

    public string MessageIdOf(Guid letterId) => $"{letterId:N}@memory.invalid";

    public Task<IMailTransport> Open(CancellationToken ct) => Task.FromResult<IMailTransport>(this);

    public Task<string> Send(LetterContent letter, string practiceName, CancellationToken ct)
    {
        Taking(letter);
        _sent.Enqueue(letter);
        return Task.FromResult("memory");
    }

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;
}
