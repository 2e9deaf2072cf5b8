using System.Net;
using System.Text;
using System.Text.Json;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Mornings;
using FruitWatch.Service.Notices;
using FruitWatch.Service.Tests.Access;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using NodaTime;
using NodaTime.Testing;

namespace FruitWatch.Service.Tests.Calendars;

/// <summary>The service, a clock in hand, and a program that reads calendars.</summary>
internal sealed class CalendarRun : IAsyncDisposable
{
    private readonly FakeTimeProvider time;
    private readonly HttpClient program;

    private CalendarRun(TestService service, FakeClock clock, FakeTimeProvider time)
    {
        (Service, Clock, this.time) = (service, clock, time);
        program = service.Client(null);
    }

    public TestService Service { get; }

    public FakeClock Clock { get; }

    public InventedCooperative Invented => Service.Invented;

    public static async Task<CalendarRun> StartAsync()
    {
        var clock = new FakeClock(InventedCooperative.Now);
        var time = new FakeTimeProvider();
        var service = await TestService.StartAsync(services =>
        {
            services.AddSingleton<IClock>(clock);
            services.AddSingleton<TimeProvider>(time);
        });
        return new CalendarRun(service, clock, time);
    }

    /// <summary>A member told about both sites, unless others are named.</summary>
    public Task<Member> JoinAsync(Role role, string name, params long[] sites) =>
        Member.JoinAsync(Service.Services, Invented.Cooperative, role, name, sites.Length > 0 ? sites : [Invented.AlderLane, Invented.MillField]);

    public async Task ChangeAsync(Member member, Action<Person> change)
    {
        await using var store = Service.Store();
        change(store.People.Single(row => row.Id == member.PersonId));
        await store.SaveChangesAsync();
    }

    /// <summary>Makes a feed as a program does; its path.</summary>
    public async Task<string> MakeAsync(Member member, long? site = null)
    {
        using var client = Service.Client(member);
        using var answer = await client.PostAsync("/api/v1/me/calendars", new StringContent(JsonSerializer.Serialize(new { name = "Phone", siteId = site }), Encoding.UTF8, "application/json"));
        var made = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.StatusCode == HttpStatusCode.Created, made);
        return new Uri(JsonDocument.Parse(made).RootElement.GetProperty("address").GetString()!).AbsolutePath;
    }

    /// <summary>What a program is answered that knows nothing but the address, and perhaps what it read before.</summary>
    public Task<HttpResponseMessage> AskAsync(string path, string? tag = null, HttpMethod? method = null)
    {
        var request = new HttpRequestMessage(method ?? HttpMethod.Get, path);
        if (tag is not null)
            request.Headers.TryAddWithoutValidation("If-None-Match", tag);
        return program.SendAsync(request);
    }

    /// <summary>The calendar as it came.</summary>
    public async Task<string> TextAsync(string path)
    {
        using var answer = await AskAsync(path);
        Assert.True(answer.StatusCode == HttpStatusCode.OK, $"{path}: {(int)answer.StatusCode}\n{string.Join("\n", Service.Faults.Told)}");
        return new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(await answer.Content.ReadAsByteArrayAsync());
    }

    /// <summary>The calendar as another's program reads it.</summary>
    public async Task<ReadCalendar> ReadAsync(string path) => await OtherReader.ReadAsync(await TextAsync(path));

    public void Pass(Duration duration)
    {
        Clock.Advance(duration);
        time.Advance(duration.ToTimeSpan());
    }

    /// <summary>The next day, with its morning round where a site is named.</summary>
    public async Task NextMorningAsync(params long[] sites)
    {
        Pass(Duration.FromDays(1));
        var today = Clock.GetCurrentInstant().InZone(DateTimeZoneProviders.Tzdb["Europe/Madrid"]).Date;
        foreach (var site in sites)
            Assert.True(await Service.Services.GetRequiredService<MorningRound>().RunAsync(new DueMorning(site, today, false), default));
    }

    /// <summary>Keeps a notice as a round does.</summary>
    public async Task<IssuedNotice> TellAsync(long site, long? bed, NoticeDraft draft, int episode = 50)
    {
        await using var store = Service.Store();
        var row = NoticeRows.Open(site, bed ?? 0, new NoticeOpened(draft.Kind, episode, draft), InventedCooperative.Today, Clock.GetCurrentInstant());
        row.BedId = bed;
        store.Notices.Add(row);
        await store.SaveChangesAsync();
        return row;
    }

    /// <summary>Ends it as a round does.</summary>
    public async Task EndAsync(IssuedNotice notice, NoticeEnd how, ClosingCode why)
    {
        await using var store = Service.Store();
        var row = store.Notices.Single(one => one.Id == notice.Id);
        NoticeRows.Close(row, new NoticeClosed(NoticeRows.KindOf(row.Kind), row.Id, how, why), Clock.GetCurrentInstant().InUtc().Date, Clock.GetCurrentInstant());
        await store.SaveChangesAsync();
    }

    public async ValueTask DisposeAsync()
    {
        program.Dispose();
        await Service.DisposeAsync();
    }
}

/// <summary>One running service for the tests of a class that leave each other's rows alone.</summary>
public sealed class OneCalendarRun : IAsyncLifetime
{
    internal CalendarRun Run { get; private set; } = null!;

    public async ValueTask InitializeAsync() => Run = await CalendarRun.StartAsync();

    public async ValueTask DisposeAsync()
    {
        if (Run is not null)
            await Run.DisposeAsync();
    }
}
