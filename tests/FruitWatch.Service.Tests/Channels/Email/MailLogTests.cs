using System.Collections.Concurrent;
using FruitWatch.Service.Channels.Email;
using Microsoft.Extensions.Logging;

namespace FruitWatch.Service.Tests.Channels.Email;

public sealed class MailLogTests : SenderTests
{
    [Fact]
    public async Task One_line_a_mail_with_key_attempt_and_outcome_and_nothing_of_the_person()
    {
        await using var server = await MailboxServer.StartAsync();
        server.AtRecipient = address => address.StartsWith("ben", StringComparison.Ordinal) ? 451 : null;
        await PutAsync(Mail("Ana"), Mail("Ben"));
        var log = new Lines();

        await Sender(Relay(server.Port), log).SendDueAsync(CancellationToken.None);

        Assert.Equal(
            ["Information Mail digest:Ana:2026-10-05: attempt 1, sent (null)", "Information Mail digest:Ben:2026-10-05: attempt 1, later 451"], log.All);
    }

    [Fact]
    public async Task A_password_that_the_relay_refuses_is_not_told()
    {
        await using var server = await MailboxServer.StartAsync();
        await PutAsync(Mail("Ana"));
        var options = Relay(server.Port);
        (options.UserName, options.Password) = ("beds", "correct-horse");
        var log = new Lines();

        var run = await Sender(options, log).SendDueAsync(CancellationToken.None);

        Assert.NotNull(run.Problem);
        var line = Assert.Single(log.All);
        Assert.StartsWith("Warning Mails wait: ", line, StringComparison.Ordinal);
        Assert.DoesNotContain("correct-horse", line + run.Problem, StringComparison.Ordinal);
    }

    private sealed class Lines : ILogger<MailSender>
    {
        private readonly ConcurrentQueue<string> lines = new();

        public IReadOnlyList<string> All => [.. lines];

        public IDisposable? BeginScope<TState>(TState state)
            where TState : notnull => null;

        public bool IsEnabled(LogLevel logLevel) => true;

        public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?, string> formatter) =>
            lines.Enqueue($"{logLevel} {formatter(state, exception)}");
    }
}
