using FruitWatch.Service.Jobs;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Tests.Pages;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace FruitWatch.Service.Tests.Jobs;

public sealed class HousekeepingTests
{
    [Fact]
    public async Task What_a_mail_said_is_forgotten_after_ninety_days_and_that_it_was_sent_is_not()
    {
        await using var service = await TestService.StartAsync();
        var old = service.Invented.Mail;
        await using var store = service.Store();
        var aged = InventedCooperative.Now - Duration.FromDays(91);
        await store.Outbox.Where(mail => mail.Id == old).ExecuteUpdateAsync(set => set.SetProperty(mail => mail.CreatedAt, aged).SetProperty(mail => mail.Headers, "{}"));
        for (var night = 0; night < 2; night++)
        {
            await using var scope = service.Services.CreateAsyncScope();
            await scope.ServiceProvider.GetRequiredService<HousekeepingJobs>().NightAsync(TestContext.Current.CancellationToken);
        }

        var mails = await store.Outbox.AsNoTracking().ToListAsync();
        var forgotten = mails.Single(mail => mail.Id == old);
        Assert.Equal(("", "", null, "2 beds need you today"), (forgotten.TextBody, forgotten.HtmlBody, forgotten.Headers, forgotten.Subject));
        Assert.All(mails.Where(mail => mail.Id != old), mail => Assert.NotEmpty(mail.TextBody));
        var page = await service.Client().GetStringAsync($"/mail/{old}");
        Assert.Contains("no longer kept", page, StringComparison.Ordinal);
        Assert.DoesNotContain("iframe", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Mails_that_were_written_as_files_go_after_ninety_days_too_and_other_files_stay()
    {
        await using var service = await TestService.StartAsync();
        var folder = Directory.CreateDirectory(service.Services.GetRequiredService<ServiceOptions>().MailFolder).FullName;
        string On(int days) => NodaTime.Text.LocalDatePattern.Iso.Format((InventedCooperative.Now - Duration.FromDays(days)).InUtc().Date);
        string[] old = [$"{On(91)}-1-ana@growers.invalid.eml", $"{On(400)}-2-ben@growers.invalid.eml"];
        string[] kept = [$"{On(90)}-3-ana@growers.invalid.eml", $"{On(0)}-4-ana@growers.invalid.eml", "notes.eml", "x.eml", $"{On(91)}.txt"];
        foreach (var file in old.Concat(kept))
            await File.WriteAllTextAsync(Path.Combine(folder, file), "Subject: x");

        await using var scope = service.Services.CreateAsyncScope();
        await scope.ServiceProvider.GetRequiredService<HousekeepingJobs>().NightAsync(TestContext.Current.CancellationToken);

        Assert.Equal(kept.Order(StringComparer.Ordinal), Directory.GetFiles(folder).Select(Path.GetFileName).Order(StringComparer.Ordinal));
    }
}
