using FruitWatch.Model.Futures;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Outlooks;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace FruitWatch.Service.Tests.Outlooks;

public sealed class OutlookRowsTests(OneService running) : IClassFixture<OneService>
{
    // As version 0.1.0 wrote it before beds were looked at in many futures.
    private const string OfVersion1 = """{"forecast":7,"pins":"2026-10-19","scores":[62.5,70.1],"moisture":[0.512,0.498]}""";

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    [InlineData(null)]
    public async Task An_outlook_comes_back_from_its_row_as_it_was_issued(bool? rule)
    {
        foreach (var (site, bed) in await BedsAsync())
        {
            var outlook = BedOutlooks.Of(site, bed)!;
            var row = OutlookRows.Of(site, bed, outlook, rule, InventedCooperative.Now)!;
            var read = OutlookRows.Read(row);

            Assert.Equal("2", row.ModelVersion);
            Assert.Equal((row.On, row.ModelVersion, site.Forecast!.Id, rule), (read.On, read.ModelVersion, read.Forecast, read.RuleOfThumb));
            Assert.Equal(10, read.Scores.Count);
            Assert.Equal(read.Scores.Count, read.Moisture.Count);
            var counts = read.Futures!;
            Assert.Equal((outlook.Members, outlook.Days), (counts.Members, counts.Days));
            Assert.Equal(outlook.Alone.Pins.By, counts.Pins);
            Assert.Equal(outlook.Alone.Harvest.By, counts.Harvest);
            Assert.Equal(outlook.Alone.Dry.By, counts.Dry);
            Assert.Equal((FutureSource.Dressed, site.Futures!.LastForecastDay), (counts.Source, counts.LastForecastDay));
            Assert.Equal(site.Futures.Years, counts.Years);
        }
    }

    [Fact]
    public async Task Days_after_the_last_rise_are_not_kept()
    {
        var (site, bed) = (await BedsAsync()).First(pair => pair.Bed.Row.Id == running.Service.Invented.Young);
        var row = OutlookRows.Of(site, bed, BedOutlooks.Of(site, bed), null, InventedCooperative.Now)!;

        // 120 days of three counts would take more than 700 characters for themselves.
        Assert.True(row.Payload.Length < 700, row.Payload);
        Assert.Contains("\"source\":\"dressed\"", row.Payload, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_bed_without_futures_keeps_what_the_single_forecast_says()
    {
        var (site, bed) = (await BedsAsync())[0];
        var read = OutlookRows.Read(OutlookRows.Of(site, bed, outlook: null, ruleOfThumb: null, InventedCooperative.Now)!);

        Assert.Null(read.Futures);
        Assert.Null(read.RuleOfThumb);
        Assert.NotEmpty(read.Scores);
    }

    [Fact]
    public void A_row_of_version_1_is_still_read()
    {
        var read = OutlookRows.Read(Row("1", OfVersion1));

        Assert.Equal(("1", 7L, new LocalDate(2026, 10, 19)), (read.ModelVersion, read.Forecast, read.Pins));
        Assert.Null(read.Harvest);
        Assert.Equal([62.5, 70.1], read.Scores);
        Assert.Equal([0.512, 0.498], read.Moisture);
        Assert.Null(read.Futures);
    }

    [Theory]
    [InlineData("")]
    [InlineData("null")]
    [InlineData("{\"pins\":\"soon\"}")]
    public void A_damaged_row_is_named(string payload)
    {
        var wrong = Assert.Throws<InvalidDataException>(() => OutlookRows.Read(Row("2", payload)));

        Assert.Contains("bed 3 on 2026-10-14 (row 12)", wrong.Message, StringComparison.Ordinal);
    }

    private static OutlookIssued Row(string version, string payload) => new()
    {
        Id = 12,
        BedId = 3,
        On = InventedCooperative.Today,
        IssuedAt = InventedCooperative.Now,
        ModelVersion = version,
        Phase = "ready",
        Payload = payload,
    };

    private async Task<List<(SiteBook Site, BedBook Bed)>> BedsAsync()
    {
        await using var store = running.Service.Store();
        var sites = await running.Service.Services.GetRequiredService<SiteBooks>().OpenAllAsync(store, TestContext.Current.CancellationToken);
        return [.. sites.SelectMany(site => site.Beds.Where(bed => bed.Problem == AccountProblem.None).Select(bed => (site, bed)))];
    }
}
