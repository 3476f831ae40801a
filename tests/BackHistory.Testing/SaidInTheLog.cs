using System.Collections.Concurrent;
using Microsoft.Extensions.Logging;

namespace BackHistory.Testing;

/// <summary>Keeps what a service logs, so that a test can look for what must not stand there.</summary>
public sealed class SaidInTheLog : ILoggerProvider
{
    private readonly ConcurrentQueue<string> _lines = new();

    public IReadOnlyCollection<string> Lines => _lines;

    public ILogger CreateLogger(string categoryName) => new Listener(_lines, categoryName);

    public void Dispose() { }

    private sealed class Listener(ConcurrentQueue<string> lines, string category) : ILogger
    {
        public IDisposable? BeginScope<TState>(TState state)
            where TState : notnull => null;

        public bool IsEnabled(LogLevel logLevel) => true;

        public void Log<TState>(
            LogLevel logLevel,
            EventId eventId,
            TState state,
            Exception? exception,
            Func<TState, Exception?, string> formatter
        ) => lines.Enqueue($"{logLevel} {category} {formatter(state, exception)} {exception}");
    }
}
