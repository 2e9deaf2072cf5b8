using FruitWatch.Service.Web;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace FruitWatch.Service.Tests.Pages;

public sealed class TodayTests(OneService running) : IClassFixture<OneService>
{
    [Fact]
    public async Task The_list_begins_with_what_is_overdue_then_today_and_holds_back_what_is_still_to_come()
    {
        using var browser = running.Service.Client();
        var page = await browser.OpenAsync("/");
        var lists = page.QuerySelectorAll("ol.due").ToList();
        Assert.Equal(
            ["Path by the fence", "Under the hazels", "Straw ring"],
            lists[0].QuerySelectorAll(".where a").Select(a => a.TextContent));
        Assert.Equal(["Overdue", "Today", "Soon"], lists[0].QuerySelectorAll(".tag").Select(HtmlPage.Read));
        Assert.Equal("Expect pins 18 October to 23 October", lists[1].QuerySelector("strong")!.Read());
        Assert.Equal("3", page.QuerySelector("h2 .count")!.TextContent);
    }

    [Fact]
    public async Task A_bed_tells_phase_score_with_its_reason_moisture_and_the_last_entry()
    {
        using var browser = running.Service.Client();
        var card = (await browser.OpenAsync("/")).QuerySelector($"article[aria-labelledby=bed-{running.Service.Invented.Young}]")!;
        Assert.StartsWith("spawn run", card.QuerySelector(".phase-name")!.Read(), StringComparison.Ordinal);
        Assert.Matches("^(dry|moist|wet), [0-9]+ % water$", card.QuerySelector(".moist")!.Read());
        Assert.Matches("^Score [0-9]{1,3}/100$", card.QuerySelector(".figure")!.Read());
        Assert.Equal("too dry", card.QuerySelector(".why")!.Read());
        Assert.Contains("nothing yet", card.Read(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_site_tells_its_weather_the_age_of_an_old_forecast_the_credit_and_the_last_round()
    {
        using var browser = running.Service.Client();
        var sites = (await browser.OpenAsync("/")).QuerySelectorAll("section.site").ToList();
        Assert.Equal(7, sites[0].QuerySelectorAll("ol.days li").Length);
        Assert.Null(sites[0].QuerySelector(".source .warn"));
        Assert.Equal("The forecast is 40 hours old.", sites[1].QuerySelector(".source .warn")!.Read());
        Assert.Equal("Weather by the invented Hill Station", sites[0].QuerySelector(".credit a")!.Read());
        Assert.Equal("Last morning round: today, 08:10", sites[0].QuerySelector(".round")!.Read());
    }

    [Fact]
    public async Task Rain_that_the_forecast_does_not_tell_is_unknown_and_neither_none_nor_the_usual()
    {
        using var browser = running.Service.Client();
        var days = (await browser.OpenAsync("/")).QuerySelectorAll("section.site")[^1].QuerySelectorAll("ol.days li").ToList();
        Assert.Equal(6, days.Count(day => day.QuerySelector(".wet") is not null));
        Assert.Equal("rain unknown", days[6].QuerySelector(".untold")!.Read());
        Assert.NotNull(days[6].QuerySelector(".temp"));
    }

    [Fact]
    public async Task A_bed_without_an_account_says_why()
    {
        using var browser = running.Service.Client();
        var card = (await browser.OpenAsync("/")).QuerySelector($"article[aria-labelledby=bed-{running.Service.Invented.Later}]")!;
        Assert.Contains("to be made after the end of the forecast", card.Read(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_bar_of_the_demo_is_there_in_the_demo_only_and_moves_it_on()
    {
        using var plain = running.Service.Client();
        Assert.Null((await plain.OpenAsync("/")).QuerySelector(".demo"));

        var demo = new CountingDemo();
        await using var service = await TestService.StartAsync(services => services.AddSingleton<IDemoStepper>(demo));
        using var browser = service.Browser();
        var bar = (await browser.OpenAsync("/notices")).QuerySelector(".demo")!;
        Assert.Contains("Wednesday 14 October 2026", bar.Read(), StringComparison.Ordinal);
        using var answer = await browser.SubmitAsync(bar.QuerySelector("button[value='7']")!);
        Assert.Equal(7, demo.Mornings);
        Assert.Equal("/notices", answer.RequestMessage!.RequestUri!.AbsolutePath);

        using var forged = await browser.PostAsync("/demo/step", new FormUrlEncodedContent([new("mornings", "7")]));
        Assert.False(forged.IsSuccessStatusCode);
        Assert.Equal(7, demo.Mornings);
    }

    [Fact]
    public async Task When_something_breaks_the_page_gives_a_number_and_no_text_of_the_fault()
    {
        await using var service = await TestService.StartAsync(map: app => app.MapGet("/break", IResult () => throw new InvalidOperationException("secret detail")).AllowAnonymous());
        using var browser = service.Client();
        using var answer = await browser.GetAsync("/break");
        var text = await answer.Content.ReadAsStringAsync();
        Assert.Equal(System.Net.HttpStatusCode.InternalServerError, answer.StatusCode);
        Assert.Contains("Something broke", text, StringComparison.Ordinal);
        Assert.DoesNotContain("secret", text, StringComparison.Ordinal);
        Assert.StartsWith("default-src 'none'", Assert.Single(answer.Headers.GetValues("Content-Security-Policy")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Where_no_weather_is_known_yet_the_beds_say_so()
    {
        var before = Instant.FromUtc(2020, 1, 1, 12, 0);
        await using var service = await TestService.StartAsync(services => services.AddSingleton<IClock>(new NodaTime.Testing.FakeClock(before)));
        using var browser = service.Client();
        using var answer = await browser.GetAsync("/");
        Assert.True(answer.IsSuccessStatusCode, string.Join('\n', service.Faults.Told));
        Assert.Contains("nothing is known of the weather", (await HtmlPage.ReadAsync(answer)).Body!.Read(), StringComparison.Ordinal);
    }

    private sealed class CountingDemo : IDemoStepper
    {
        public int Mornings { get; private set; }

        public string Today => "2026-10-14";

        public Task StepAsync(int mornings)
        {
            Mornings += mornings;
            return Task.CompletedTask;
        }
    }
}
