using BackHistory.Application.Access;
using BackHistory.Application.Archives;
using BackHistory.Application.Evaluation;
using BackHistory.Application.Imports;
using BackHistory.Application.Letters;
using BackHistory.Application.People;
using BackHistory.Application.Registration;
using BackHistory.Testing;
using Microsoft.Extensions.DependencyInjection;

namespace BackHistory.Application.Tests;

/// <summary>Every act over a database of its own, below the doors: nothing is served, and what lies outside is in memory.</summary>
public sealed class PracticeActs : IAsyncLifetime
{
    /// <summary>A Monday, at nine in Greenwich.</summary>
    public static readonly DateTimeOffset Began = new(2026, 3, 2, 9, 0, 0, TimeSpan.Zero);

    public FixedTime Time { get; } = new(Began);

    public PracticeStore Store { get; private set; } = null!;

    internal Asked Asked { get; } = new();

    internal MemoryMail Mail { get; } = new();

    internal PlainLetters Letters { get; } = new();

    public async ValueTask InitializeAsync() =>
        Store = await PracticeStore.Open(also: services =>
            services
                .AddSingleton<TimeProvider>(Time)
                .AddActs()
                .AddImports()
                .AddArchiving()
                .AddEvaluation()
                .AddSingleton<IChangeNotifier>(Asked)
                .AddSingleton<IBackgroundWork>(Asked)
                .AddSingleton<IAccountLetters>(Asked)
                .AddSingleton<ILetterFiles>(Asked)
                .AddSingleton<IMailSender>(Mail)
                .AddSingleton<ILetterLinks>(Letters)
        );

    public ValueTask DisposeAsync() => Store.DisposeAsync();

    /// <summary>An act, or what acts are made of.</summary>
    public T Get<T>()
        where T : notnull => Store.Get<T>();

    /// <summary>A practice of a test's own.</summary>
    internal async Task<TestPractice> Found(string name, bool lettersLeave = true)
    {
        await Store.Found(name, Began.AddYears(-1), lettersLeave);
        return new TestPractice(this, name);
    }
}
