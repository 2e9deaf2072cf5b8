using System.Net;
using System.Net.Http.Headers;
using FruitWatch.Service.Channels.Email.Bounces;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using NodaTime;
using NodaTime.Testing;

namespace FruitWatch.Service.Tests.Channels.Email.Bounces;

/// <summary>The service with an address of bounces, a member whose mail comes back, and ways to bring it.</summary>
internal sealed class ReturnedMail : IAsyncDisposable
{
    public const string Secret = "a-secret-of-more-than-twenty";
    private int mails;

    private ReturnedMail(TestService service) => Service = service;

    public TestService Service { get; }

    /// <summary>Warnings that were logged.</summary>
    public LogLines Log { get; private init; } = new();

    public FakeClock Clock => (FakeClock)Service.Services.GetRequiredService<IClock>();

    public long Ana { get; private set; }

    public static async Task<ReturnedMail> StartAsync(int port = 0, string protocol = "pop3", params (string, string)[] settings)
    {
        var log = new LogLines();
        var made = new ReturnedMail(await TestService.StartAsync(services => services.AddSingleton<ILoggerProvider>(log), settings:
        [
            ("Mail:Bounces:Address", "bounces@alder.invalid"), ("Mail:Bounces:HookSecret", Secret),
            .. port == 0 ? [] : new[]
            {
                ("Mail:Bounces:Host", "127.0.0.1"), ("Mail:Bounces:Port", port.ToString(System.Globalization.CultureInfo.InvariantCulture)),
                ("Mail:Bounces:Protocol", protocol), ("Mail:Bounces:Security", "none"), ("Mail:Bounces:UserName", "bounces"), ("Mail:Bounces:Password", "correct-horse"),
            },
            .. settings,
        ]))
        {
            Log = log,
        };
        made.Ana = await made.JoinAsync("Ana", Role.Grower);
        return made;
    }

    public async Task<long> JoinAsync(string name, Role role, string language = "en")
    {
        await using var store = Service.Store();
        var person = new Person
        {
            CooperativeId = Service.Invented.Cooperative,
            Name = name,
            Email = $"{name.ToLowerInvariant()}@growers.invalid",
            Role = role,
            Language = language,
            EmailConfirmedAt = Clock.GetCurrentInstant(),
        };
        store.People.Add(person);
        await store.SaveChangesAsync();
        return person.Id;
    }

    /// <summary>A mail that went out.</summary>
    public async Task<OutgoingMail> MailAsync(string key = "digest", MailState state = MailState.Sent, string? error = null, long? to = null)
    {
        await using var store = Service.Store();
        var person = await PersonAsync(to);
        var now = Clock.GetCurrentInstant();
        var number = ++mails;
        var mail = new OutgoingMail
        {
            Key = $"{key}:{person.Id}:{number}",
            CooperativeId = person.CooperativeId,
            PersonId = person.Id,
            ToName = person.Name,
            ToAddress = person.Email,
            Subject = "Water Path bed today",
            TextBody = "Water",
            HtmlBody = "<p>Water</p>",
            MessageId = $"{key}.{person.Id}.{number}@alder.invalid",
            State = state,
            NextTryAt = now,
            NotAfter = now + Duration.FromHours(6),
            CreatedAt = now,
            SentAt = state == MailState.Sent ? now : null,
            LastError = error,
        };
        Assert.True(await store.AddIfNewAsync(mail));
        return mail;
    }

    public string ReturnPathOf(OutgoingMail mail) => Service.Services.GetRequiredService<ReturnPaths>().Of(mail).Address;

    /// <summary>A new mail comes back.</summary>
    public async Task<string> ComesBackAsync(string sample, OutgoingMail? mail = null)
    {
        mail ??= await MailAsync();
        using var answer = await HandOverAsync(ReportSamples.Bytes(sample, ReturnPathOf(mail)));
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        return (await answer.Content.ReadAsStringAsync()).Trim();
    }

    public async Task<HttpResponseMessage> HandOverAsync(byte[] report, string? secret = Secret, string type = "message/rfc822", string? recipient = null)
    {
        using var server = Service.Client(null);
        using var request = new HttpRequestMessage(HttpMethod.Post, BounceHook.Address) { Content = new ByteArrayContent(report) };
        request.Content.Headers.ContentType = new MediaTypeHeaderValue(type);
        if (secret is not null)
            request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", secret);
        if (recipient is not null)
            request.Headers.Add(BounceHook.Recipient, recipient);
        return await server.SendAsync(request);
    }

    public async Task<Person> PersonAsync(long? id = null)
    {
        await using var store = Service.Store();
        var wanted = id ?? Ana;
        return await store.People.AsNoTracking().SingleAsync(person => person.Id == wanted);
    }

    public async Task<IReadOnlyList<OutgoingMail>> NotesAsync()
    {
        await using var store = Service.Store();
        return await store.Outbox.AsNoTracking().Where(mail => mail.Key.StartsWith("address-paused:")).OrderBy(mail => mail.Id).ToListAsync();
    }

    public ValueTask DisposeAsync() => Service.DisposeAsync();
}
