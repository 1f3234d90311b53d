package rules

import (
	"cmp"
	"slices"
	"strings"
)

// sites says where a publisher is found, by words of its name, for sources whose
// page is not known. They are from memory, and lead to the publisher, whose search
// finds the title. Longer names
// stand before those that they hold.
var sites = [][2]string{
	{"National Center for Home Food Preservation", "https://nchfp.uga.edu"},
	{"NCHFP", "https://nchfp.uga.edu"},
	{"Centers for Disease Control", "https://www.cdc.gov"},
	{"Food and Drug Administration", "https://www.fda.gov"},
	{"Food Safety and Inspection Service", "https://www.fsis.usda.gov"},
	{"National Agricultural Library", "https://www.nal.usda.gov"},
	{"US Department of Agriculture", "https://www.usda.gov"},
	{"University of Georgia", "https://extension.uga.edu"},
	{"Kansas State University", "https://www.ksre.k-state.edu"},
	{"Oklahoma State University", "https://extension.okstate.edu"},
	{"Oregon State University", "https://extension.oregonstate.edu"},
	{"Michigan State University", "https://www.canr.msu.edu"},
	{"North Dakota State University", "https://www.ndsu.edu/agriculture"},
	{"North Carolina", "https://content.ces.ncsu.edu"},
	{"University of Nebraska", "https://food.unl.edu"},
	{"University of Missouri", "https://extension.missouri.edu"},
	{"Cornell University", "https://cce.cornell.edu"},
	{"Clemson", "https://hgic.clemson.edu"},
	{"Virginia Cooperative Extension", "https://ext.vt.edu"},
	{"University of Wisconsin", "https://extension.wisc.edu"},
	{"Iowa State University", "https://www.extension.iastate.edu"},
	{"Penn State", "https://extension.psu.edu"},
	{"University of California", "https://ucanr.edu"},
	{"University of Maine", "https://extension.umaine.edu"},
	{"Utah State University", "https://extension.usu.edu"},
	{"Colorado State University", "https://extension.colostate.edu"},
	{"University of Alaska", "https://www.uaf.edu/ces"},
	{"Alaska Department of Health", "https://health.alaska.gov"},
	{"Washington State University", "https://extension.wsu.edu"},
	{"Pacific Northwest Extension", "https://pubs.extension.wsu.edu"},
	{"Canadian Food Inspection Agency", "https://inspection.canada.ca"},
	{"Health Canada", "https://www.canada.ca/en/health-canada.html"},
	{"Illinois Poison Center", "https://www.illinoispoisoncenter.org"},
	{"University of Illinois", "https://extension.illinois.edu"},
	{"University of Florida", "https://edis.ifas.ufl.edu"},
	{"University of Idaho", "https://www.uidaho.edu/extension"},
	{"University of Nevada, Reno", "https://extension.unr.edu"},
	{"University of Wyoming", "https://uwyoextension.org"},
	{"Rutgers", "https://njaes.rutgers.edu"},
	{"Wisconsin Sea Grant", "https://www.seagrant.wisc.edu"},
	{"Cooperative Extension", "https://ask2.extension.org"},
}

// pages holds, by the source's id, its page at the publisher. Of several answers or
// leaflets it is one. The addresses were found with the words, but for that of
// ask-vinegar, which follows from the number of the answer.
var pages = map[string]string{
	"21-cfr":            "https://www.accessdata.fda.gov/scripts/cdrh/cfdocs/cfCFR/CFRSearch.cfm?CFRPart=114",
	"alaska-2019":       "https://www.adn.com/alaska-news/anchorage/2019/12/31/anchorage-man-survives-botulism-after-eating-home-canned-salmon/",
	"alaska-health":     "https://health.alaska.gov/en/education/botulism",
	"ask-extension":     "https://ask2.extension.org/kb/faq.php?id=289541",
	"ask-lemon":         "https://ask.extension.org/kb/faq.php?id=435085",
	"ask-vinegar":       "https://ask2.extension.org/kb/faq.php?id=469319",
	"cdc-oils":          "https://www.cdc.gov/botulism/prevention/index.html",
	"cdc-prevention":    "https://www.cdc.gov/botulism/prevention/index.html",
	"cfia-mother":       "https://inspection.canada.ca/food-safety-for-consumers/fact-sheets/specific-products-and-risks/commonly-occurring-issues-in-food/mother-of-vinegar/eng/1593531803164/1593531803773",
	"clemson-list":      "https://hgic.clemson.edu/factsheet/common-canning-problems/",
	"clemson-squash":    "https://www.clemson.edu/extension/food/canning/canning-tips/01summer-squash.html",
	"cornell-freeze":    "https://extension.tennessee.edu/Bedford/Pages/News-feed-fcs-frozen-food.aspx",
	"cornell-water":     "http://www.frugalupstate.com/frugal-food/readers-question-water-boiling-off-while-canning/",
	"csu-kimchi":        "https://foodsmartcolorado.colostate.edu/recipes/preservation/understanding-and-making-kimchi/",
	"fda-burn":          "https://consumer.healthday.com/public-health-information-30/food-safety-news-589/good-enough-to-eat-510388.html",
	"cdc-listeria":      "https://cdc.gov/listeria/risk-factors/index.html",
	"flood-cdc":         "https://cdc.gov/natural-disasters/psa-toolkit/keeping-or-discarding-packaged-food.html",
	"flood-podcast":     "https://en.ubook.com/chapter/115631577",
	"flower-jelly":      "https://creativecanning.com/canning-flower-jelly",
	"graham-1997":       "https://pubmed.gov/9081311",
	"idaho-ph":          "https://webpages.uidaho.edu/fcs270/02_h.htm",
	"illinois-poison":   "https://www.illinoispoisoncenter.org/health-safety/food-poisoning/botulinum",
	"illinois-starch":   "https://extension.illinois.edu/blogs/live-well-eat-well/2020-10-06-canning-pie-filling-do-you-have-clear-jelr",
	"illinois-tomato":   "https://web.extension.illinois.edu/state/newsdetail.cfm?NewsID=11360",
	"isu-age":           "https://blogs.extension.iastate.edu/answerline",
	"isu-books":         "https://blogs.extension.iastate.edu/answerline/tag/nchfp",
	"isu-crystals":      "https://blogs.extension.iastate.edu/answerline/tag/crystals-in-spreads",
	"isu-gauge":         "https://blogs.extension.iastate.edu/answerline/2024/05/21/canning-season-readiness-time-to-test-pressure-canner-dial-gauges-and-check-out-the-canner/",
	"isu-gifts":         "https://blogs.extension.iastate.edu/answerline/2020/12/08",
	"isu-sealed":        "https://blogs.extension.iastate.edu/answerline/2022/08/30/canning-mistakes-but-my-jars-sealed/",
	"isu-starch":        "https://blogs.extension.iastate.edu/answerline/tag/pie-filling/",
	"isu-steam":         "https://blogs.extension.iastate.edu/answerline/tag/equipment",
	"isu-tomatoes":      "https://i929fm.com/lifestyle/heres-know-canning-tomatoes-season-083009133.html",
	"jfp-flatsour":      "https://meridian.allenpress.com/jfp/article/44/2/157",
	"kstate-asparagus":  "https://enewsletters.k-state.edu/youaskedit/2022/03/16/pickled-asparagus-problems",
	"kstate-color":      "https://enewsletters.k-state.edu/youaskedit/2023/09/15/color-changes-in-home-canned-foods/",
	"kstate-corn":       "https://enewsletters.k-state.edu/youaskedit/page/10",
	"kstate-freeze":     "https://www.ksre.k-state.edu/news-and-publications/news/stories/2026/01/food-safety-frozen-canned-foods.html",
	"kstate-mold":       "https://enewsletters.k-state.edu/youaskedit/tag/mold",
	"kstate-pears":      "https://enewsletters.k-state.edu/youaskedit/2016/09/15/canned-pears-turn-pink/",
	"kstate-pickle":     "https://www.walnutcreek.k-state.edu/health-nutrition/preservation/pickling-fermentation/faqs.html",
	"kstate-reprocess":  "https://enewsletters.k-state.edu/youaskedit/?p=3096",
	"kstate-seals":      "https://enewsletters.k-state.edu/youaskedit/2020/03/13/reasons-for-canning-seal-failures",
	"kstate-soup":       "https://enewsletters.k-state.edu/youaskedit/2016/12/15/can-i-home-can-creamed-soup",
	"kstate-squash":     "https://enewsletters.k-state.edu/youaskedit/2022/08/11/preserving-summer-squash",
	"kstate-vent":       "https://enewsletters.k-state.edu/youaskedit/2022/04/19/dont-forget-to-vent/",
	"lsu-outage":        "https://www.lsuagcenter.com/topics/family_home/hazards_and_threats/power_outage/play-it-safe-with-food-after-a-power-outage",
	"mmwr-2000":         "https://www.cdc.gov/mmwr/preview/mmwrhtml/mm4934a2.htm",
	"mmwr-2015":         "https://pmc.ncbi.nlm.nih.gov/articles/PMC4584836",
	"mmwr-2019":         "https://www.cdc.gov/mmwr/volumes/68/wr/mm6810a5.htm",
	"mmwr-2025":         "https://www.cdc.gov/mmwr/volumes/74/wr/mm7424a1.htm",
	"msu-dilly":         "https://www.canr.msu.edu/news/canning_dilly_green_beans_and_pickled_vegetables",
	"msu-lime":          "http://www.solareagle.com/PREP/PFS/01600957.HTM",
	"msu-maple":         "https://www.canr.msu.edu/news/storing_maple_syrup",
	"msu-metal":         "https://bznj.com/01500153.html",
	"msu-old":           "https://www.canr.msu.edu/news/how_old_are_your_home_canned_foods",
	"mu-buckle":         "http://missourifamilies.org/quick/foodsafetyqa/qafs8.htm",
	"mu-freeze":         "https://extension.missouri.edu/news/what-if-my-canned-foods-freeze",
	"mu-fridge":         "http://missourifamilies.org/quick/foodsafetyqa/qafs605.htm",
	"mu-loss":           "http://missourifamilies.org/quick/foodsafetyqa/qafs92.htm",
	"mu-salt":           "http://missourifamilies.org/quick/foodsafetyqa/qafs574.htm",
	"mu-tomato":         "https://extension.missouri.edu/publications/gh1456",
	"nal-canning":       "https://www.nal.usda.gov/exhibits/ipd/canning",
	"nchfp-asian-pears": "https://nchfp.uga.edu/how/can_02/asian_pears.html",
	"nchfp-beans":       "https://nchfp.uga.edu/publications/nchfp/factsheets/greenbeans.html",
	"nchfp-cranberry":   "https://nchfp.uga.edu/how/can_salsa/spicy_cranberry_salsa.html",
	"nchfp-curd":        "https://nchfp.uga.edu/how/can/canning-fruits-and-fruit-products/lemon-curd-canned",
	"nchfp-gifts":       "https://nchfp.uga.edu/tips/winter/hfp_gifts.html",
	"nchfp-jars":        "https://nchfp.uga.edu/blog/jar-size-choices-have-you-frustrated",
	"nchfp-listeria":    "https://nchfp.uga.edu/papers/2004/04iftpickle-poster.html",
	"nchfp-meat-faq":    "https://nchfp.uga.edu/faqs/meats/category/faq-canning",
	"nchfp-mincemeat":   "https://nchfp.uga.edu/how/can/canning-fruits-and-fruit-products/pie-fillings/festive-mincemeat-pie-filling",
	"nchfp-multicooker": "https://nchfp.uga.edu/blog/can-i-can-in-a-multi-cooker",
	"nchfp-peach":       "https://nchfp.uga.edu/how/can/canning-fruits-and-fruit-products/peaches-halved-or-sliced",
	"nchfp-pumpkin":     "https://nchfp.uga.edu/blog/beware-pumpkin-butter",
	"nchfp-safety":      "https://nchfp.uga.edu/how/general/for_safety_sake.html",
	"nchfp-smoked":      "https://nchfp.uga.edu/how/can_05/smoked_fish.html",
	"nchfp-spread":      "http://nchfp.uga.edu/how/can_07/refrig_apple_spread.html",
	"ncstate-faq":       "https://www.foodsafetysite.com/consumers/faq/",
	"ncstate-gauge":     "https://wilkes.ces.ncsu.edu/2019/04/pressure-canner-dial-gauge-testing-wilkes/",
	"ncstate-lemon":     "http://www.foodsafetysite.com/consumers/faq/?m_knowledgebase_article=166",
	"ncstate-pickles":   "https://content.ces.ncsu.edu/pickle-and-pickle-product-problems",
	"ndsu-color":        "https://www.ext.nodak.edu/extnews/askext/canning/4578.htm",
	"ndsu-fruit":        "https://ndsu.edu/agriculture/node/2064",
	"ndsu-lids":         "https://www.ag.ndsu.edu/news/newsreleases/2020/aug-24-2020/don2019t-be-tempted-to-reuse-canning-lids",
	"ok-cleanup":        "https://www.normantranscript.com/how-to-determine-spoilage-in-home-canned-goods/article_48857cc8-7de1-11eb-b419-fb2c7d43799f.html",
	"okstate-oil":       "https://extension.okstate.edu/programs/oklahoma-gardening/recipes/safely-infusing-oils-at-home.html",
	"osu-freeze":        "https://extension.oregonstate.edu/es/food/preservation/safety-canned-food-freezes-sp-50-695",
	"osu-gifts":         "https://extension.oregonstate.edu/ask-extension/featured/are-home-preserved-gifts-safe-eat",
	"osu-heat":          "https://extension.oregonstate.edu/ask-expert/featured/my-canned-food-okay-after-heatwave",
	"osu-jams":          "https://extension.oregonstate.edu/food/preservation/jams-jellies-problems-solutions-sp-50-746",
	"osu-kraut":         "https://extension.oregonstate.edu/es/food/preservation/sauerkraut-problems-solutions",
	"osu-one-piece":     "https://extension.oregonstate.edu/ask-extension/featured/one-piece-lids-safe-canning",
	"osu-vegetables":    "https://extension.oregonstate.edu/food/preservation/canned-vegetables-problems-solutions-sp-50-742",
	"psu-bread":         "https://extension.psu.edu/food-preservation-setting-the-record-straight-on-canning-breads-and-cakes",
	"psu-buckle":        "https://extension.psu.edu/frequently-asked-preservation-question-buckling-lids",
	"psu-half-gallon":   "https://extension.psu.edu/food/preservation/faq/canning-with-half-gallon-jars",
	"psu-salt":          "http://extension.psu.edu/food/preservation/safe-methods/ingredients-used-in-home-food-preservation",
	"psu-vinegar":       "http://extension.psu.edu/food/preservation/faq/homemade-vinegar-acidity",
	"pueblo-fire":       "https://county.pueblo.org/public-health/food-safety-after-fire",
	"rutgers-books":     "https://njaes.rutgers.edu/food-safety/home-food-preservation/resources.php",
	"rutgers-salsa":     "https://njaes.rutgers.edu/food-safety/home-food-preservation/salsa.php",
	"struvite":          "https://nfpa-food.org/crystals-in-canned-seafood",
	"uc-fruit":          "https://solanomfp.ucanr.edu/Resources/Fruit",
	"uc-heat":           "https://ucanr.edu/sites/NSJMFP/?blogasset=140685&blogpost=57437",
	"uc-salsa":          "https://www.ucanr.edu/site/uc-master-food-preservers-central-sierra/article/preserve-it-series-how-make-safe-personalized",
	"uf-zucchini":       "https://edis.ifas.ufl.edu/he247",
	"uga-beans":         "https://preservingfoodathome.com/2014/09/02/putting-a-lid-on-green-beans",
	"uga-dry":           "https://preservingfoodathome.com/category/food-safety",
	"uga-eggs":          "https://preservingfoodathome.com/category/recipes/page/6",
	"uga-vinegar":       "https://site.extension.uga.edu/madison/2023/07/vinegar-acidity-matters/",
	"unl-loss":          "https://extension.unl.edu/statewide/otoe/canning-salsa-safely",
	"unl-nicks":         "https://food.unl.edu/saving-home-canned-food-jars-did-not-seal/",
	"usda-outage":       "https://www.foodsafety.gov/keep/charts/refridg_food.html",
	"usu-jam":           "http://extension.usu.edu/htm/faq/faq_q=2809",
	"usu-peaches":       "https://usuextensionfaq.blogspot.com/2010/10/how-can-i-safely-can-peaches.html",
	"usu-store":         "https://extension.usu.edu/foodstorage/htm/what-not-to-store",
	"uw-game":           "https://shawano.extension.wisc.edu/healthyfamilies-communities/wild-game",
	"uw-pickled-fish":   "https://publications.aqua.wisc.edu/product/home-pickling-of-fish/",
	"uw-substitutions":  "https://fyi.extension.wisc.edu/safefood/2020/07/15/safe-substitutions-when-canning/",
	"uw-vinegar":        "https://fyi.uwex.edu/safepreserving/2013/12/02/safe-preserving-flavored-vinegars-and-oils/",
	"wsu-botulism":      "https://extension.wsu.edu/foodsafety/content/what-you-need-to-know-about-botulism",
	"wsu-dark":          "https://extension.wsu.edu/whatcom/food-safety-resources/",
	"wsu-faq":           "https://extension.wsu.edu/clark/healthwellness/foodpreservation/foodsafetyfaqs/",
	"wyoming-sugar":     "https://uwyoextension.org/uwnutrition/category/food-preservation/page/9/",
}

// copies holds, by the source's id, the page where a copy stands: archived, printed
// elsewhere, or quoted there.
var copies = map[string]string{
	"cdc-home":          "https://www.foodbanter.com/2331051-post1.html",
	"cfia-jam":          "http://shelflifeadvice.com/content/how-long-can-open-jar-jelly-jam-or-preserves-sit-out-room-temperature",
	"clemson-qa":        "https://thetandd.com/from-attic-to-basement-frequently-asked-canning-questions/article_ca345423-664c-58e9-9a6d-dabb62dde437.html",
	"color-text":        "http://annex.retroarchive.org/cdrom/smsw-vol5/HEALTH/CANNING/COLORCHG.TXT",
	"csu-tomato":        "https://docslib.org/doc/13582904/canning-tomatoes-and-tomato-products-fact-sheet-no",
	"fda-badbug":        "https://corpora.tika.apache.org/base/docs/govdocs1/465/465219.html",
	"fda-ph":            "https://studylib.net/doc/27052300",
	"flood-county":      "https://simplyprepared.com/?p=1328",
	"fsis-chart":        "https://yumpu.com/en/document/view/38723445/let-me-tell-you-how-dad-got-sick-food-safety-news/7",
	"fsis-color":        "https://webarchive.library.unt.edu/eot2008/20080916162436/http://www.fsis.usda.gov/Help/FAQs_Hotline_Appearance/index.asp",
	"fsis-condiments":   "https://www.consumerreports.org/cro/news/2012/04/how-long-to-keep-ketchup-and-other-common-condiments/index.htm",
	"fsis-outdoors":     "https://docslib.org/doc/6568667/food-safety-while-hiking-camping-boating",
	"fsis-power":        "https://boulderodm.gov/keep-food-safe-during-power-outage",
	"health-canada":     "https://www.sooguide.com/index_php/component/mtree/what-s-up/healthy-soo/home-canning-prepare-it-safely_Itemid/",
	"illinois-color":    "http://annex.retroarchive.org/cdrom/smsw-vol5/HEALTH/CANNING/FRUITPRB.TXT",
	"kstate-bread":      "https://www2.ljworld.com/news/2008/nov/12/pass_canned_breads_cakes",
	"kstate-color-news": "https://bcbudgetdev.com/article/what-color-should-canned-foods-be/3681",
	"kstate-frozen":     "https://eurekaherald.com/article/1136,eating-frozen-canned-foods-good-idea-or-not",
	"kstate-methods":    "https://www.tonganoxiemirror.com/news/2010/jul/20/sullivan-canners-cant-always-trust-old-methods",
	"kstate-mistakes":   "https://www.gbtribune.com/news/life/avoid-home-canning-mistakes/",
	"kstate-problems":   "https://docslib.org/doc/118126/food-preservation-problems-and-solutions",
	"msu-corn-relish":   "https://angelfire.com/mo3/abcdefg200/survlib/pfs/01600282.htm",
	"msu-fish":          "https://angelfire.com/mo3/abcdefg200/survlib/pfs/01600574.htm",
	"msu-nicks":         "https://angelfire.com/mo3/abcdefg200/survlib/pfs/01600593.htm",
	"msu-pasteurize":    "http://exosomatic.org/ENTER/Sustainable%20Development%20-%20&%20SEE%20Biology/Survival/Survival%20Library%201/pfs/01600865.htm",
	"msu-pectin":        "https://angelfire.com/mo3/abcdefg200/survlib/pfs/01600551.htm",
	"msu-pickles":       "http://www.solareagle.com/PREP/PFS/01600612.HTM",
	"msu-pie":           "https://angelfire.com/mo3/abcdefg200/survlib/pfs/01600844.htm",
	"msu-shellfish":     "https://angelfire.com/mo3/abcdefg200/survlib/pfs/01600851.htm",
	"msu-storing":       "https://cdn.preterhuman.net/texts/survival/survival_library/pfs/01600952.htm",
	"msu-sugar":         "http://www.solareagle.com/PREP/PFS/01600502.HTM",
	"msu-tomato":        "https://angelfire.com/mo3/abcdefg200/survlib/pfs/01600833.htm",
	"mu-mold":           "https://nutritionmythbusters.blogspot.com/2010/06",
	"nc-freezer-jam":    "https://www.clintonnc.com/news/59953/freezer-jam",
	"nchfp-jam":         "https://fedest.com/question/20060611114327AAKSvGx",
	"nchfp-jam-store":   "https://webarchive.library.unt.edu/eot2008/20090116024238/http:/www.uga.edu/nchfp/how/can_07/storing_jams.html",
	"ncstate-plastic":   "https://www.newsbreak.com/news/2668116576988/two-piece-lids-or-one-piece-canning-lids",
	"ncstate-times":     "https://lasaan.tripod.com/canningrecipes/times.html",
	"pickle-table":      "https://docslib.org/doc/1602574/troubleshooting-pickling-and-fermentation-problems",
	"pnw-194":           "https://studylib.net/doc/13703664/c-archival-copy.-for-current-version--see-",
	"pnw-664":           "https://issuu.com/paula754/docs/garlic-oil-safety-in-making-pdf-2pd/1",
	"psu-age":           "https://www.lancasterfarming.com/farm_life/food_and_recipes/canning-questions-and-answers/article_b032215e-31ed-5274-88ce-d300a839d916.html",
	"psu-kraut":         "http://www.ehow.com/info_12317188_long-sauerkraut-good-eat-refrigerated.html",
	"psu-not":           "https://bradfordera.com/2020/09/19/rts-for-saturday-4",
	"psu-seal":          "https://truyenhinhcapsongthu.net/en/when-a-jar-becomes-unsealed-penn-state-extension/wnEKS1T7IEePKmq",
	"uaf-salmon":        "http://peninsulaclarion.com/stories/080501/peo_080501peo0020002.shtml",
	"uaf-squash":        "https://peninsulaclarion.com/life/learning-for-life-safely-preserve-zucchini",
	"uc-garlic":         "https://vdocument.in/garlic-safe-methods-to-store-preserve-and-includes-leeks-onions-and-shallots.html",
	"uga-jam":           "https://studylib.net/doc/13883850",
	"umaine-fruit":      "https://www.centralmaine.com/2020/06/29/food-preservation-updates-on-white-fleshed-peaches-and-nectarines-elderberries/",
	"usda-brine":        "https://edis.ifas.ufl.edu/he287",
	"usda-fermented":    "http://www.solareagle.com/PREP/PFS/01600129.HTM",
	"usda-guide":        "https://fdocuments.us/document/complete-guide-to.html",
	"usda-meat":         "http://clyx.com/books/consumer/home_canning_of_meat_and_poultry/spoilage.htm",
	"usda-pectin":       "https://mail.recipesource.com/misc/canning/jams-jellies-pectin1.html",
	"usda-pickles":      "https://www.chowhound.com/1721033/should-you-refrigerate-pickles/",
	"usda-principles":   "https://lasaan.tripod.com/canningrecipes/guide2.html",
	"usda-processes":    "https://docslib.org/doc/287185/selecting-preparing-and-canning-fruit-and-fruit-products",
	"usda-seal":         "https://mail.recipesource.com/misc/canning/testing-jar-seals1.html",
	"usda-shelf":        "https://www.chowhound.com/1645468/best-way-store-open-canned-foods-fridge/",
	"usda-spoiled":      "https://mail.recipesource.com/misc/canning/identifying-handling-spoiled-canned-food1.html",
	"usda-tomatoes":     "https://mail.recipesource.com/misc/canning/tomatoes-introduction1.html",
	"usda-yearbook":     "https://bitlit.ru/page/en/united-states-department-of-agriculture/canning-freezing-storing-garden-produce/112",
	"vce-2009":          "http://www.nvdaily.com/vce-livingwell/2009/08/canning_challenges_questions_frequently_asked-print.html",
}

// Page is the address of the page where the source was read, or of one where it can be,
// and "" where none is known.
func (s *Source) Page() string { return cmp.Or(pages[s.ID], copies[s.ID]) }

// Copy reports whether that page is not the publisher's own.
func (s *Source) Copy() bool { return copies[s.ID] != "" }

// Site is the address of the publisher, or "" where none is known.
func (s *Source) Site() string {
	for _, site := range sites {
		if strings.Contains(s.Publisher, site[0]) {
			return site[1]
		}
	}
	return ""
}

// Listed is a source with how most surely something of it is known.
type Listed struct {
	*Source
	Known Evidence
}

// surest orders the ways of knowing, the surest first.
var surest = [...]int{Read: 0, Copied: 1, Derived: 2, Memory: 3, Practice: 4}

// Sources lists every source that anything in this edition cites, by publisher
// and title, each once.
func Sources() (all []Listed) {
	at := map[*Source]int{}
	for _, u := range citesThat(func(Evidence) bool { return true }) {
		s, known := u.Cite.Source, u.Cite.Known()
		i, seen := at[s]
		if !seen {
			i = len(all)
			at[s] = i
			all = append(all, Listed{s, known})
		}
		if surest[known] < surest[all[i].Known] {
			all[i].Known = known
		}
	}
	slices.SortStableFunc(all, func(a, b Listed) int {
		return cmp.Or(cmp.Compare(a.Publisher, b.Publisher), cmp.Compare(a.Title, b.Title))
	})
	return all
}
