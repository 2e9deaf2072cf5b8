using FruitWatch.Model.Notices;
using FruitWatch.Service.Deeds;
using FruitWatch.Service.Tests.Deeds;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Wishes;
using FruitWatch.Store.Entities;
using Microsoft.Extensions.DependencyInjection;

namespace FruitWatch.Browser.Tests;

/// <summary>Pages that links of mails lead to, on a phone and at a desk, of somebody who has not signed in: before their button and after it.</summary>
public sealed class LinkPageTests(ChromiumRun run)
{
    [Theory]
    [InlineData("en", false, 320)]
    [InlineData("es", true, 320)]
    [InlineData("es", false, 1280)]
    [InlineData("en", true, 1280)]
    public async Task Before_and_after_the_button_they_have_no_violation(string language, bool dark, int width)
    {
        await using var service = await TestService.StartAsync();
        var me = service.Coordinator.PersonId;
        await service.ChangeAsync(me, row => row.Language = language);
        await using (var store = service.Store())
        {
            store.PersonSites.AddRange(new[] { service.Invented.AlderLane, service.Invented.MillField }.Select(site => new PersonSite { PersonId = me, SiteId = site }));
            await store.SaveChangesAsync();
        }

        var stops = service.Services.GetRequiredService<StopLinks>();
        string[] links =
        [
            service.Link(Deed.Watered, await service.WaterAsync(), me, revision: 1),
            service.Link(Deed.PinsSeen, await service.NoticeAsync(service.Invented.Hazels, NoticeKind.ExpectPins), me),
            service.Link(Deed.Snooze, await service.NoticeAsync(service.Invented.Straw, NoticeKind.ExpectHarvest), me),
            new Uri(stops.AddressOf(new StopLink(me, StopTopic.Digest))).AbsolutePath,
            new Uri(stops.AddressOf(new StopLink(me, StopTopic.Urgent))).AbsolutePath,
        ];
        foreach (var link in links)
        {
            // The window speaks English: the page speaks to whose mail it was.
            await using var window = await run.OpenAsync(service.Address, "en", dark, width);
            await window.Page.GotoAsync(link);
            await LookAsync(window, language, $"{link} before");
            if (link.StartsWith(StopLinks.Path, StringComparison.Ordinal))
            {
                // What can be chosen instead, with the beds of both sites.
                await window.Page.ClickAsync("details.less > summary");
                Assert.True(await window.Page.Locator($"input[name=beds][value='{service.Invented.Hazels}']").IsVisibleAsync());
                await LookAsync(window, language, $"{link} instead");
            }

            await window.Page.ClickAsync("main button.big");
            await LookAsync(window, language, $"{link} after");
            Assert.True(await window.Page.Locator("main [role=status]").IsVisibleAsync(), link);
            Assert.True(await window.Page.Locator("main button.act").IsVisibleAsync(), link);
        }
    }

    private static async Task LookAsync(Window window, string language, string what)
    {
        Assert.Equal(language, await window.Page.GetAttributeAsync("html", "lang"));
        await Pictures.TakeAsync(window.Page, $"{language} {what[..what.IndexOf('/', 1)]} {what.Split(' ')[^1]} {window.Page.ViewportSize!.Width}");
        var sideways = await window.Page.EvaluateAsync<int>("document.documentElement.scrollWidth - document.documentElement.clientWidth");
        Assert.True(sideways <= 0, $"{what}: scrolls {sideways} px sideways");
        var violations = await Axe.RunAsync(window.Page);
        Assert.True(violations.Length == 0, $"{what}: {violations}");
        Assert.True(window.Complaints.Count == 0, $"{what}: {string.Join("; ", window.Complaints)}");
    }
}
